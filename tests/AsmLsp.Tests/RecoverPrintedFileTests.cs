using System.Text.Json;
using AsmLsp.Core.Doubts;

namespace AsmLsp.Tests;

/// <summary>A file that the document prints for its program: written beside the source, into the archive, and never over another one.</summary>
public sealed class RecoverPrintedFileTests : IDisposable
{
    private static readonly string[] Program =
    [
        "Listing 1: lamp.asm",
        "        list    p=16f84a",
        "        include \"board.inc\"",
        "        __config 0x3ff1",
        "        org     0",
        "start   movlw   LIGHT",
        "        movwf   LAMP",
        "        clrf    COUNT",
        "        goto    start",
        "        end",
        "Listing 2: board.inc",
        "LAMP    equ     6",
        "COUNT   equ     0x0c",
        "LIGHT   equ     7",
        "DARK    equ     NIGHT",
        "DIM     equ     3",
    ];

    private readonly string folder = Directory.CreateTempSubdirectory("relist-printed-").FullName;

    public RecoverPrintedFileTests() => File.WriteAllBytes(Document, RawPdf.Of(Program));

    private string Document => In("kit.pdf");

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Fact]
    public void File_is_written_beside_the_source_and_the_report_is_about_both()
    {
        Directory.CreateDirectory(In("out"));
        string source = In("out", "kit.asm"),
            report = In("report.json"),
            review = In("review.html");
        Assert.Equal(
            ExitCodes.ProblemsRemain,
            Run("recover", Document, "-o", source, "--report", report, "--review", review)
        );
        string file = File.ReadAllText(In("out", "board.inc"));
        Assert.Contains("LIGHT   equ     7", file, StringComparison.Ordinal);
        Assert.DoesNotContain("LIGHT   equ", File.ReadAllText(source), StringComparison.Ordinal);
        using var json = JsonDocument.Parse(File.ReadAllText(report));
        JsonElement[] entries = [.. json.RootElement.EnumerateArray()];
        Assert.Contains(
            entries,
            e =>
                e.GetProperty("code").GetString() == "printed-file"
                && e.GetProperty("severity").GetString() == "note"
                && e.GetProperty("file").GetString() == source
                && e.GetProperty("page").GetInt32() == 1
        );
        JsonElement undefined = Assert.Single(
            entries,
            static e => e.GetProperty("code").GetString() == "undefined-name"
        );
        Assert.Equal(In("out", "board.inc"), undefined.GetProperty("file").GetString());
        Assert.Equal(
            Array.FindIndex(file.Split('\n'), static l => l.StartsWith("DARK", StringComparison.Ordinal)) + 1,
            undefined.GetProperty("line").GetInt32()
        );
        string page = File.ReadAllText(review);
        Assert.Contains("The included file board.inc, printed on page 1", page, StringComparison.Ordinal);
        Assert.Contains("id=\"file-1-line-1\"", page, StringComparison.Ordinal);
        Assert.Contains("NIGHT", page, StringComparison.Ordinal);
    }

    [Fact]
    public void File_that_is_there_with_another_text_is_not_written_over()
    {
        Directory.CreateDirectory(In("out"));
        string there = In("out", "board.inc"),
            source = In("out", "kit.asm");
        File.WriteAllText(there, "LAMP equ 5\n");
        var error = new StringWriter();
        Assert.Equal(ExitCodes.Unusable, CommandLine.Run(["recover", Document, "-o", source], TextWriter.Null, error));
        Assert.Contains("board.inc is there already", error.ToString(), StringComparison.Ordinal);
        Assert.Equal("LAMP equ 5\n", File.ReadAllText(there));
        Assert.False(File.Exists(source));
        File.Delete(there);
        Assert.Equal(ExitCodes.ProblemsRemain, Run("recover", Document, "-o", source));
        // Again, with its own file there.
        Assert.Equal(ExitCodes.ProblemsRemain, Run("recover", Document, "-o", source));
    }

    [Fact]
    public void Source_with_the_name_of_the_file_is_refused()
    {
        Directory.CreateDirectory(In("out"));
        Assert.Equal(ExitCodes.Unusable, Run("recover", Document, "-o", In("out", "board.inc")));
        Assert.Empty(Directory.EnumerateFileSystemEntries(In("out")));
    }

    [Fact]
    public void Nothing_is_written_in_a_dry_run_or_beside_standard_output()
    {
        var error = new StringWriter();
        Assert.Equal(
            ExitCodes.ProblemsRemain,
            CommandLine.Run(["recover", Document, "--dry-run"], TextWriter.Null, error)
        );
        Assert.Contains("board.inc, printed on page 1, would be written", error.ToString(), StringComparison.Ordinal);
        Assert.Equal(ExitCodes.ProblemsRemain, CommandLine.Run(["recover", Document], TextWriter.Null, error));
        Assert.Contains("board.inc, printed on page 1, is not written", error.ToString(), StringComparison.Ordinal);
        Assert.Equal([Document], Directory.EnumerateFileSystemEntries(folder));
    }

    [Fact]
    public void Archive_holds_the_file_and_keeps_what_was_resolved_in_it()
    {
        string archive = In("kit"),
            file = Path.Combine(archive, "board.inc");
        Assert.Equal(ExitCodes.ProblemsRemain, Run("recover", Document, "--archive", archive));
        Assert.True(File.Exists(file));
        Assert.False(File.Exists(Path.Combine(archive, "source.hex")));
        Assert.Contains("board.inc", File.ReadAllText(Path.Combine(archive, "SHA256SUMS")), StringComparison.Ordinal);
        Assert.Contains(
            "\"file\": \"board.inc\"",
            File.ReadAllText(Path.Combine(archive, "report.json")),
            StringComparison.Ordinal
        );

        File.WriteAllLines(
            file,
            File.ReadAllLines(file)
                .Select(DoubtMark.Remove)
                .Select(static l => l.Replace("NIGHT", "0", StringComparison.Ordinal))
        );
        Assert.Equal(ExitCodes.Clean, Run("recover", Document, "--archive", archive));
        Assert.Contains("DARK    equ     0", File.ReadAllText(file), StringComparison.Ordinal);
        Assert.True(File.Exists(Path.Combine(archive, "source.hex")));
        Assert.Equal(ExitCodes.Clean, Run("check", archive));
        Assert.Equal(ExitCodes.Clean, Run("recover", Document, "--archive", archive));
    }

    [Fact]
    public void List_of_programs_names_the_file_and_gives_no_command_for_it()
    {
        var output = new StringWriter();
        Assert.Equal(ExitCodes.Clean, CommandLine.Run(["recover", Document, "--programs"], output, TextWriter.Null));
        Assert.Contains("1 whole program, 1 included file", output.ToString(), StringComparison.Ordinal);
        Assert.Contains("the file board.inc, which programs here include", output.ToString(), StringComparison.Ordinal);
    }

    private static int Run(params string[] arguments) => CommandLine.Run(arguments, TextWriter.Null, TextWriter.Null);

    private string In(params string[] names) => Path.Combine([folder, .. names]);
}
