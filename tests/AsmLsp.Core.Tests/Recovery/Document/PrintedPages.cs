using AsmLsp.Core.Printed;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Recovery.Results;

namespace AsmLsp.Core.Tests.Recovery.Document;

/// <summary>Makes printed pages of text: monospaced lines as they are, prose after a '|'; a blank at the end of a line is one that the document draws.</summary>
internal static class PrintedPages
{
    public static PrintedDocument Of(params string[] pages)
    {
        var result = new List<PrintedPage>();
        foreach (string page in pages)
        {
            var lines = new List<PrintedLine>();
            double y = 60;
            foreach (string line in page.Split('\n'))
            {
                y += 12;
                if (line.Length == 0)
                    continue;
                bool prose = line[0] == '|';
                string text = prose ? line[1..] : line;
                lines.Add(
                    new PrintedLine(
                        text.TrimEnd(),
                        result.Count + 1,
                        lines.Count + 1,
                        60 + 6 * (text.Length - text.TrimStart().Length),
                        y,
                        prose ? "Times-Roman" : "Courier",
                        prose ? 11 : 10,
                        !prose
                    )
                    {
                        EndsInBlank = text.EndsWith(' '),
                    }
                );
            }

            result.Add(new PrintedPage(result.Count + 1, 595, 842, [.. lines], []));
        }

        return new PrintedDocument([.. result]);
    }

    public static RecoveryResult Recover(DocumentRecoveryOptions? options, params string[] pages) =>
        DocumentRecovery.Run(Of(pages), options);

    public static RecoveryResult Recover(params string[] pages) => DocumentRecovery.Run(Of(pages));

    /// <summary>The words of the program memory, by address.</summary>
    public static string Words(RecoveryResult result) =>
        string.Join(
            ' ',
            result.Program.Image.Words.Where(w => w.Address < 0x2000).Select(w => $"{w.Address:X}:{w.Word:X4}")
        );

    public static string Source(RecoveryResult result) => result.Source.ToString().TrimEnd();

    public static IEnumerable<RecoveryEntry> DoubtsOf(RecoveryResult result) =>
        result.Entries.Where(e => e.Severity != Severity.Information);
}
