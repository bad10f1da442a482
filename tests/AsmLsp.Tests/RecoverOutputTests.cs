using AsmLsp.Core.Printed;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Recovery.Listings;
using AsmLsp.Host.Recovering;
using AsmLsp.Recovering;

namespace AsmLsp.Tests;

public class RecoverOutputTests
{
    [Fact]
    public void Programs_for_two_chips_end_with_2_and_nothing_is_written()
    {
        string path = Path.Combine(Path.GetTempPath(), Guid.NewGuid() + ".asm");
        var error = new StringWriter();
        Assert.Equal(
            ExitCodes.Unusable,
            RecoverOutput.Write(new RecoverRequest("kit.pdf", path), Document(null), TextWriter.Null, error)
        );
        Assert.False(File.Exists(path));
        Assert.Contains("kit.pdf holds 2 whole programs", error.ToString(), StringComparison.Ordinal);
        Assert.Contains(
            "2. page 2, 5 lines, PIC16F628, whole program, complete",
            error.ToString(),
            StringComparison.Ordinal
        );
        Assert.Contains($"relist recover kit.pdf --pick 2 -o {path}", error.ToString(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(" list p=16f84a\n include <p16f84a.inc>\nloop goto loop\n end\n", "Next: relist build ")]
    [InlineData(
        " list p=16f84a\n include <p16f84a.inc>\nloop goto loop\n movlw lost\n movlw 10\n end\n",
        "Next: compare each doubtful line with the page: relist recover "
    )]
    public void The_report_closes_with_the_next_step(string program, string said)
    {
        string folder = Directory.CreateTempSubdirectory("relist-next-").FullName;
        try
        {
            string text = Path.Combine(folder, "kit.txt"),
                source = Path.Combine(folder, "kit.asm");
            File.WriteAllText(text, program);
            var error = new StringWriter();
            CommandLine.Run(["recover", text, "-o", source], TextWriter.Null, error);
            string last = error.ToString().TrimEnd().Split('\n')[^1];
            Assert.StartsWith(said, last, StringComparison.Ordinal);
            // The command that is shown works as it is shown.
            string[] shown = last[(last.IndexOf("relist ", StringComparison.Ordinal) + 7)..].Split(' ');
            Assert.NotEqual(ExitCodes.Unusable, CommandLine.Run(shown, TextWriter.Null, TextWriter.Null));
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    [Fact]
    public void Chosen_one_of_them_is_written()
    {
        var output = new StringWriter();
        Assert.NotEqual(
            ExitCodes.Unusable,
            RecoverOutput.Write(new RecoverRequest("kit.pdf", Sources.Standard), Document(2), output, TextWriter.Null)
        );
        Assert.Contains("16f628", output.ToString(), StringComparison.Ordinal);
        Assert.DoesNotContain("16f84a", output.ToString(), StringComparison.Ordinal);
    }

    private static RecoveredDocument Document(int? listing)
    {
        PrintedPage[] pages = [Page(1, "16f84a"), Page(2, "16f628")];
        var document = new PrintedDocument([.. pages]);
        return new RecoveredDocument(
            "kit.pdf",
            Array.Empty<byte>(),
            document,
            null,
            DocumentRecovery.Run(document, new DocumentRecoveryOptions { Listing = listing })
        );
    }

    private static PrintedPage Page(int number, string chip)
    {
        string[] lines =
        [
            $"        list    p={chip}",
            "        org     0",
            "again   clrw",
            "        goto    again",
            "        end",
        ];
        return new PrintedPage(
            number,
            595,
            842,
            [.. lines.Select((text, i) => new PrintedLine(text, number, i + 1, 60, 72 + 12 * i, "Courier", 10, true))],
            []
        );
    }
}
