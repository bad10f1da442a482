using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Recovery.Evidence;
using AsmLsp.Core.Recovery.Listings.Rows;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Text;
using AsmLsp.Pdf.Tests.Printing;

namespace AsmLsp.Pdf.Tests;

/// <summary>
/// Programs are printed in every kind of damage, read back from the PDF file and recovered; the words of the program before it was
/// printed are the measure. The counts are kept in docs/recovery.md.
/// </summary>
public class PrintedRecoveryTests
{
    private const string Start =
        "<!-- generated: printed documents. A test rewrites this with RELIST_UPDATE_DOCS=1. -->\n";
    private const string End = "<!-- end of printed documents -->";

    private static readonly DamageKind[] Kinds = [.. Enum.GetValues<DamageKind>(), .. Printing.Printing.Usual];

    // Blanks only, a macro with a table, blocks, texts in two quotes, conditions; the last one has a comment on nearly every line.
    private static readonly string[] Programs =
    [
        "01-blinker",
        "08-lcd",
        "12-serial",
        "15-semaforo",
        "16-i2c-clock",
        "crossing",
    ];

    [Fact]
    public void No_word_of_a_printed_program_is_silently_wrong()
    {
        var outcomes = new List<Row>();
        foreach (string name in Programs)
            outcomes.AddRange(Recover("PdfPig", name));
        foreach (string printer in (string[])["Chromium", "groff"])
        foreach (string name in (string[])["12-serial", "crossing"])
            outcomes.AddRange(Recover(printer, name));

        string[] silent =
        [
            .. outcomes
                .Where(o => o.Outcome == Outcome.Silent)
                .Select(o => $"{o.Printer} {o.Damage} {o.Program}: {string.Join("; ", o.Unreported)}"),
        ];
        Assert.True(silent.Length == 0, string.Join('\n', silent));
        RecoveryPage.Hold(Start, End, Table(outcomes));
    }

    private sealed record Row(
        string Printer,
        DamageKind Damage,
        string Program,
        Outcome Outcome,
        List<string> Unreported
    );

    // All sheets in one set of type go into one file: a printer that takes its time to start is started twice.
    private static IEnumerable<Row> Recover(string printer, string name)
    {
        ProgramAnalysis truth = PrintedTruth.Of(name);
        Assert.False(truth.HasErrors);
        foreach (bool proportional in (bool[])[false, true])
        {
            DamageKind[] kinds = [.. Kinds.Where(k => k.HasFlag(DamageKind.ProportionalFont) == proportional)];
            Sheets[] sheets =
            [
                .. kinds.Select(k => Sheets.Of(truth.Root.Text.ToString(), k, PrintedTruth.FirstWords(truth))),
            ];
            PrintedDocument[] documents = [.. Print(Printers.Named(printer), sheets)];
            for (int i = 0; i < kinds.Length; i++)
            {
                RecoveryResult result = DocumentRecovery.Run(documents[i]);
                (Outcome outcome, List<string> unreported) = RecoveryJudge.Judge(truth, result);
                yield return new Row(printer, kinds[i], name, outcome, unreported);
            }
        }
    }

    private static IEnumerable<PrintedDocument> Print(IPrinter printer, Sheets[] sheets)
    {
        var together = new Sheets(
            [.. sheets.SelectMany(s => s.Pages)],
            [.. sheets.SelectMany(s => s.Headers)],
            [.. sheets.SelectMany(s => s.Footers)],
            sheets[0].IsProportional
        );
        PrintedReading reading = new PdfReader().Read(printer.Print(together));
        Assert.Null(reading.Failure);
        Assert.Equal(together.Pages.Length, reading.Document!.Pages.Length);
        int first = 0;
        foreach (Sheets one in sheets)
        {
            yield return new PrintedDocument(
                [
                    .. reading
                        .Document.Pages.Skip(first)
                        .Take(one.Pages.Length)
                        .Select(
                            (p, i) =>
                                p with
                                {
                                    Number = i + 1,
                                    Lines = [.. p.Lines.Select(l => l with { Page = i + 1 })],
                                }
                        ),
                ],
                reading.Document.Notes
            );
            first += one.Pages.Length;
        }
    }

    private static string Table(List<Row> rows)
    {
        var table = new StringBuilder(
            "| on paper | prints | same words | differences reported | silent |\n| --- | --: | --: | --: | --: |\n"
        );
        foreach (
            IGrouping<DamageKind, Row> kind in rows.GroupBy(r => r.Damage).OrderBy(g => Array.IndexOf(Kinds, g.Key))
        )
        {
            int Count(Outcome outcome) => kind.Count(r => r.Outcome == outcome);
            table.Append(
                CultureInfo.InvariantCulture,
                $"| {Words(kind.Key)} | {kind.Count()} | {Count(Outcome.Identical)} | {Count(Outcome.Flagged)} | {Count(Outcome.Silent)} |\n"
            );
        }

        return table.ToString();
    }

    // 'HeadersAndFooters, TwoColumns' to 'headers and footers + two columns'.
    private static string Words(DamageKind damage)
    {
        var words = new StringBuilder();
        foreach (char c in damage.ToString())
        {
            if (c == ',')
                words.Append(" +");
            else if (char.IsUpper(c) && words.Length > 0 && words[^1] != ' ')
                words.Append(' ').Append(char.ToLowerInvariant(c));
            else
                words.Append(char.ToLowerInvariant(c));
        }

        return words.ToString();
    }
}
