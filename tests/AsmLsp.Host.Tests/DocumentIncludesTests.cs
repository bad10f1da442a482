using AsmLsp.Core.Text;
using AsmLsp.Host.Archive;
using AsmLsp.Host.Recovering;

namespace AsmLsp.Host.Tests;

/// <summary>What a document prints as an include decides about no file elsewhere on the machine.</summary>
public sealed class DocumentIncludesTests : IDisposable
{
    private readonly TempFolder folder = new();

    public DocumentIncludesTests()
    {
        folder.Write("secret.env", "secret equ 0x5a\n");
        folder.Write("box/beside.inc", "lamp equ 1\n");
        folder.Write("box/sub/deep.inc", "deep equ 2\n");
        folder.Write("named/other.inc", "other equ 3\n");
        File.CreateSymbolicLink(folder["box/leads-out.inc"], folder["secret.env"]);
        File.CreateSymbolicLink(folder["box/leads-in.inc"], folder["box/beside.inc"]);
        File.CreateSymbolicLink(folder["box/way-out"], folder.Path);
    }

    public void Dispose() => folder.Dispose();

    [Theory]
    [InlineData("beside.inc", true)]
    [InlineData("BESIDE.INC", true)]
    [InlineData("sub/deep.inc", true)]
    [InlineData("sub\\deep.inc", true)]
    [InlineData("C:\\PIC\\BESIDE.INC", true)]
    [InlineData("leads-in.inc", true)]
    [InlineData("other.inc", true)]
    [InlineData("../secret.env", false)]
    [InlineData("sub/../../secret.env", false)]
    [InlineData("..\\SECRET.ENV", false)]
    [InlineData("leads-out.inc", false)]
    [InlineData("way-out/secret.env", false)]
    [InlineData("ABSOLUTE", false)]
    public void Only_files_beside_the_document_and_in_named_folders_are_read(string name, bool isRead)
    {
        var includes = new DocumentIncludes(folder["box"], [folder["named"]]);
        SourceFile? found = includes.Resolve(
            name == "ABSOLUTE" ? folder["secret.env"] : name,
            new SourceFile(folder["box/kit.txt"], SourceText.From(""))
        );
        Assert.Equal(isRead, found is not null);
        if (!isRead && !name.Contains('\\', StringComparison.Ordinal))
            Assert.Contains("is not read", Assert.Single(includes.Notes), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("\"../secret.env\"")]
    [InlineData("\"leads-out.inc\"")]
    [InlineData("ABSOLUTE")]
    public void Archive_takes_no_private_file_in_and_shows_none_of_its_lines(string name)
    {
        string written = name == "ABSOLUTE" ? $"\"{folder["secret.env"]}\"" : name;
        string path = folder.Write(
            "box/kit.txt",
            $" list p=16f84a\n include {written}\n __config 0x3ff1\nstart movlw 1\n movwf 6\n goto start\n end\n"
        );
        RecoveryOutcome outcome = DocumentRecoverer.Recover(new DocumentRequest(path), CancellationToken.None);
        Assert.Contains(outcome.Notes, static n => n.Contains("is not read", StringComparison.Ordinal));
        ArchiveOutcome archive = ArchiveWriter.Write(folder["kept"], new ArchiveRequest(outcome.Document!, "[]", "1"));
        Assert.Null(archive.Refusal);
        Assert.DoesNotContain("secret.env", Directory.GetFiles(folder["kept"]).Select(Path.GetFileName));
        Assert.All(
            Directory.GetFiles(folder["kept"]),
            static f => Assert.DoesNotContain("0x5a", File.ReadAllText(f), StringComparison.OrdinalIgnoreCase)
        );
        // The same when the archive is checked, and renewed: its source has the line still.
        ArchiveCheck.Of(folder["kept"]);
        ArchiveWriter.Write(folder["kept"], new ArchiveRequest(outcome.Document!, "[]", "1"));
        Assert.All(
            Directory.GetFiles(folder["kept"]),
            static f => Assert.DoesNotContain("0x5a", File.ReadAllText(f), StringComparison.OrdinalIgnoreCase)
        );
    }

    [Fact]
    public void File_that_a_person_put_into_the_list_of_an_archive_outlives_its_renewal()
    {
        string path = folder.Write(
            "box/kit.txt",
            " list p=16f84a\n __config 0x3ff1\nstart movlw 1\n movwf 6\n goto start\n end\n"
        );
        RecoveryOutcome outcome = DocumentRecoverer.Recover(new DocumentRequest(path), CancellationToken.None);
        var request = new ArchiveRequest(outcome.Document!, "[]", "1");
        Assert.Null(ArchiveWriter.Write(folder["kept"], request).Refusal);
        string own = folder.Write("kept/photos.txt", "precious");
        File.AppendAllText(
            folder["kept/SHA256SUMS"],
            $"{Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData("precious"u8))}  photos.txt\n"
        );
        ArchiveOutcome again = ArchiveWriter.Write(folder["kept"], request);
        Assert.Null(again.Refusal);
        Assert.Equal("precious", File.ReadAllText(own));
        Assert.Contains(again.Notes, static n => n.Contains("photos.txt is no longer part", StringComparison.Ordinal));
    }
}
