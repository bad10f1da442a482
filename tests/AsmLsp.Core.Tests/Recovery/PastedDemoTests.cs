using AsmLsp.Core.Hex;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Tests.Recovery;

/// <summary>The text of the demonstration, as it comes out of a viewer's clipboard, against the HEX file of the clean source.</summary>
public class PastedDemoTests
{
    [Fact]
    public void Pasted_pages_give_the_words_of_the_program_with_few_doubts()
    {
        RecoveryResult result = TextRecovery.Run(
            SourceText.From(File.ReadAllText(Path.Combine(Folder(), "pasted.txt")))
        );
        string shown =
            result.Source
            + "\n"
            + string.Join(
                "\n",
                result
                    .Entries.Where(e => e.Severity != Severity.Information)
                    .Select(e => $"{e.Line + 1} {e.Severity} {e.Code} {e.Message}")
            );
        Assert.True(!result.Program.HasErrors, shown);
        // Worked out by hand, see docs/demo/README.md.
        HexReading hex = IntelHexReader.Read(File.ReadAllText(Path.Combine(Folder(), "crossing.hex")));
        Assert.True(hex.Memory.Count > 100 && hex.Memory.SequenceEqual(result.Program.Image.Memory), shown);
        Assert.True(result.Entries.Count(e => e.Severity == Severity.Warning) <= 12, shown);
    }

    private static string Folder()
    {
        string? folder = AppContext.BaseDirectory;
        while (folder is not null && !File.Exists(Path.Combine(folder, "AsmLsp.sln")))
            folder = Path.GetDirectoryName(folder);
        return Path.Combine(
            folder ?? throw new InvalidOperationException("The folder of the solution is not found above the tests."),
            "docs",
            "demo"
        );
    }
}
