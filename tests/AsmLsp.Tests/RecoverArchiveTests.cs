using System.Text;
using AsmLsp.Core.Doubts;

namespace AsmLsp.Tests;

/// <summary>An archive comes to rest: what is reported of the whole document has its mark at the head of the source, and goes with it.</summary>
public sealed class RecoverArchiveTests : IDisposable
{
    private static readonly string[] Head =
    [
        "        list    p=16f84a",
        "        __config 0x3ff1",
        "        org     0",
    ];
    private static readonly string[] Blink =
    [
        .. Head,
        "start   movlw   1",
        "        movwf   6",
        "        goto    start",
        "        end",
    ];
    private static readonly string[] Chase =
    [
        .. Head,
        "again   rlf     6,f",
        "        nop",
        "        nop",
        "        goto    again",
        "        end",
    ];

    private readonly string folder = Directory.CreateTempSubdirectory("relist-archive-").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Fact]
    public void Doubt_about_the_whole_document_is_resolved_in_the_source()
    {
        string document = Path.Combine(folder, "kit.pdf"),
            archive = Path.Combine(folder, "kit"),
            source = Path.Combine(archive, "source.asm"),
            review = Path.Combine(archive, "review.html");
        // Cut off at its very end, and with two pieces of programs: both are reported of the document, not of a line.
        File.WriteAllBytes(document, RawPdf.Of(Blink[Head.Length..], Chase[Head.Length..])[..^8]);
        Assert.Equal(ExitCodes.ProblemsRemain, Recover(document, archive));
        string[] recovered = File.ReadAllLines(source);
        string mark = Assert.Single(recovered, static l => DoubtMark.IsOn(l));
        Assert.Contains("the listing that is meant? The document holds several", mark, StringComparison.Ordinal);
        Assert.Contains(Doubt.Separator, DoubtMark.WordsOf(mark), StringComparison.Ordinal);
        Assert.DoesNotContain("was changed since", File.ReadAllText(review), StringComparison.Ordinal);

        File.WriteAllLines(source, recovered.Select(DoubtMark.Remove));
        Assert.Equal(ExitCodes.Clean, Recover(document, archive));
        Assert.Equal(ExitCodes.Clean, CommandLine.Run(["check", archive], TextWriter.Null, TextWriter.Null));
        Assert.Contains(
            "One of its doubts is resolved there, and 0 doubts or problems are open",
            File.ReadAllText(review),
            StringComparison.Ordinal
        );
        Assert.Equal(ExitCodes.Clean, Recover(document, archive));
    }

    [Fact]
    public void Text_without_a_line_end_after_the_end_gets_one()
    {
        string paste = Path.Combine(folder, "kit.txt"),
            source = Path.Combine(folder, "kit.asm");
        foreach (string after in (string[])["", "\nWritten for the club's journal"])
        {
            File.WriteAllText(paste, string.Join('\n', Blink) + after, Encoding.ASCII);
            Assert.Equal(
                ExitCodes.Clean,
                CommandLine.Run(["recover", paste, "-o", source], TextWriter.Null, TextWriter.Null)
            );
            string written = File.ReadAllText(source);
            Assert.StartsWith(string.Join('\n', Blink) + "\n", written, StringComparison.Ordinal);
            Assert.EndsWith("\n", written, StringComparison.Ordinal);
        }
    }

    private static int Recover(string document, string archive) =>
        CommandLine.Run(["recover", document, "--archive", archive], TextWriter.Null, TextWriter.Null);
}
