using System.Security.Cryptography;
using System.Text;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Hex;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Text;
using AsmLsp.Host.Archive;
using AsmLsp.Host.Recovering;

namespace AsmLsp.Host.Tests;

public sealed class ArchiveTests : IDisposable
{
    private const string Paste = " list p=16f84a\n __config 0x3ff1\nstart movlw 1O\n got0 start\n end\n";

    private readonly TempFolder temp = new();

    private string Folder => temp["kit"];

    public void Dispose() => temp.Dispose();

    [Fact]
    public void Archive_holds_document_source_report_page_and_hex_with_their_sums()
    {
        ArchiveOutcome outcome = Write(Paste);
        Assert.Null(outcome.Refusal);
        Assert.Equal(
            [
                "README.txt",
                "SHA256SUMS",
                "card.html",
                "document.txt",
                "doubts.txt",
                "manifest.json",
                "recovered.asm",
                "report.json",
                "review.html",
                "source.asm",
                "source.hex",
            ],
            Directory.GetFiles(Folder).Select(Path.GetFileName).Order(StringComparer.Ordinal)
        );
        Assert.Equal(Paste, Read("document.txt"));
        // The form of 'sha256sum' (GNU coreutils manual, 'cksum output modes'): sum, two blanks, name.
        string[] lines = Read("SHA256SUMS").Split('\n', StringSplitOptions.RemoveEmptyEntries);
        Assert.Equal(10, lines.Length);
        Assert.All(
            lines,
            line =>
                Assert.Equal(
                    Convert
                        .ToHexString(SHA256.HashData(File.ReadAllBytes(Path.Combine(Folder, line[66..]))))
                        .ToLowerInvariant() + "  ",
                    line[..66]
                )
        );
    }

    [Fact]
    public void Same_document_gives_the_same_bytes()
    {
        Write(Paste);
        string[] first =
        [
            .. Directory
                .GetFiles(Folder)
                .Order(StringComparer.Ordinal)
                .Select(f => Convert.ToBase64String(File.ReadAllBytes(f))),
        ];
        Directory.Delete(Folder, recursive: true);
        Write(Paste);
        Assert.Equal(
            first,
            Directory
                .GetFiles(Folder)
                .Order(StringComparer.Ordinal)
                .Select(f => Convert.ToBase64String(File.ReadAllBytes(f)))
        );
    }

    [Fact]
    public void Source_with_resolved_doubts_is_kept_and_all_that_follows_from_it_renewed()
    {
        Assert.False(Write(Paste).State!.IsClean);
        // MOVLW 0x17, GOTO 0 (DS35007B, table 7-2).
        File.WriteAllText(
            Path.Combine(Folder, "source.asm"),
            "        list p=16f84a\n        __config 0x3ff1\nstart   movlw 17\n        goto start\n        end\n"
        );
        ArchiveVerdict changed = ArchiveCheck.Of(Folder);
        Assert.Contains(changed.Faults, f => f.StartsWith("source.asm is not as it was", StringComparison.Ordinal));
        Assert.Contains(changed.Faults, f => f.Contains("does not build to source.hex", StringComparison.Ordinal));

        ArchiveState state = Write(Paste).State!;
        Assert.True(state.IsClean, Read("doubts.txt"));
        Assert.Equal(
            ["movlw 17", "goto start"],
            state.Resolved.Select(s => s.After!.Replace("start   ", "", StringComparison.Ordinal).Trim())
        );
        Assert.Contains("movlw 17", Read("source.asm"), StringComparison.Ordinal);
        Assert.Contains("was got0", Read("recovered.asm"), StringComparison.Ordinal);
        Assert.Equal((ushort)0x3017, IntelHexReader.Read(Read("source.hex")).Memory[0]);
        Assert.Empty(ArchiveCheck.Of(Folder).Faults);
    }

    [Fact]
    public void Document_in_the_archive_keeps_its_first_name()
    {
        Write(Paste);
        string readme = Read("README.txt");
        Write(Paste, "document.txt");
        Assert.Equal(readme, Read("README.txt"));
        Assert.StartsWith("The program of kit.txt\n", readme, StringComparison.Ordinal);
    }

    [Fact]
    public void Source_that_does_not_assemble_any_more_takes_its_hex_out_of_the_archive()
    {
        Write(Paste);
        File.WriteAllText(
            Path.Combine(Folder, "source.asm"),
            "        list p=16f84a\n        goto nowhere\n        end\n"
        );
        ArchiveOutcome outcome = Write(Paste);
        Assert.False(outcome.State!.CanBuild);
        Assert.False(File.Exists(Path.Combine(Folder, "source.hex")));
        Assert.DoesNotContain("source.hex", Read("SHA256SUMS"), StringComparison.Ordinal);
        Assert.Contains("There is no HEX", Read("README.txt"), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("report.json")]
    [InlineData("recovered.asm")]
    [InlineData("document.txt")]
    public void File_that_was_changed_by_hand_is_not_written_over(string name)
    {
        Write(Paste);
        File.AppendAllText(Path.Combine(Folder, name), "; mine\n");
        string all = Everything();
        Assert.Contains(name, Write(Paste).Refusal, StringComparison.Ordinal);
        Assert.Equal(all, Everything());
        Assert.Single(ArchiveCheck.Of(Folder).Faults);
    }

    [Fact]
    public void Archive_of_another_document_is_left_alone()
    {
        Write(Paste);
        string all = Everything();
        Assert.Contains(
            "another document",
            Write(Paste.Replace("1O", "12", StringComparison.Ordinal)).Refusal,
            StringComparison.Ordinal
        );
        Assert.Equal(all, Everything());
    }

    [Fact]
    public void Folder_with_other_things_in_it_is_left_alone()
    {
        temp.Write("kit/notes.txt", "mine");
        Assert.Contains("not empty", Write(Paste).Refusal, StringComparison.Ordinal);
        Assert.Equal(["notes.txt"], Directory.GetFileSystemEntries(Folder).Select(Path.GetFileName));
    }

    [Fact]
    public void Notes_beside_the_archive_stay()
    {
        Write(Paste);
        temp.Write("kit/notes.txt", "mine");
        Assert.Null(Write(Paste).Refusal);
        Assert.Equal("mine", Read("notes.txt"));
    }

    [Fact]
    public void Renewing_that_was_cut_short_can_be_done_again()
    {
        Write(Paste);
        string sums = Read("SHA256SUMS");
        File.WriteAllText(
            Path.Combine(Folder, "source.asm"),
            "        list p=16f84a\n        __config 0x3ff1\nstart   movlw 17\n        goto start\n        end\n"
        );
        Write(Paste);
        // As if the list, which is written last, had not been reached.
        File.WriteAllText(Path.Combine(Folder, "SHA256SUMS"), sums);
        Assert.Null(Write(Paste).Refusal);
        Assert.Empty(ArchiveCheck.Of(Folder).Faults);
    }

    [Fact]
    public void Included_file_goes_into_the_archive()
    {
        temp.Write("parts/delay.inc", "value equ 5\n");
        ArchiveOutcome outcome = Write(
            " list p=16f84a\n __config 0x3ff1\n include \"parts/delay.inc\"\n movlw value\n end\n"
        );
        Assert.Null(outcome.Refusal);
        Assert.Equal("value equ 5\n", Read("delay.inc"));
        Assert.Empty(ArchiveCheck.Of(Folder).Faults);
    }

    [Fact]
    public void Missing_file_is_reported_by_the_check_and_put_back_by_the_next_run()
    {
        Write(Paste);
        File.Delete(Path.Combine(Folder, "review.html"));
        Assert.Equal(["review.html is missing."], ArchiveCheck.Of(Folder).Faults);
        Write(Paste);
        Assert.Empty(ArchiveCheck.Of(Folder).Faults);
    }

    private ArchiveOutcome Write(string paste, string name = "kit.txt") => Write(Folder, paste, name);

    /// <summary>Recovers a paste, and writes or renews its archive.</summary>
    internal static ArchiveOutcome Write(string folder, string paste, string name = "kit.txt")
    {
        SourceText text = SourceText.From(paste);
        var includes = new IncludeResolver(new IncludeSearch([], [], DiskView.Instance), new FileLoader());
        RecoveryResult result = TextRecovery.Run(
            text,
            new RecoveryOptions
            {
                Name = Path.Combine(Path.GetDirectoryName(folder)!, "kit.txt"),
                Includes = includes,
                Assembly = AssemblyOptions.Default,
            }
        );
        return ArchiveWriter.Write(
            folder,
            new ArchiveRequest(
                new RecoveredDocument(name, Encoding.UTF8.GetBytes(paste), null, text, result),
                "[]\n",
                "1.2.3"
            )
        );
    }

    private string Read(string name) => File.ReadAllText(Path.Combine(Folder, name));

    private string Everything() =>
        string.Concat(
            Directory
                .GetFiles(Folder)
                .Order(StringComparer.Ordinal)
                .Select(f => Path.GetFileName(f) + Convert.ToHexString(SHA256.HashData(File.ReadAllBytes(f))))
        );
}
