using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Recovery.Evidence;
using AsmLsp.Core.Recovery.Listings;
using AsmLsp.Core.Recovery.Listings.Rows;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Text;
using AsmLsp.Host.Scans;
using AsmLsp.Pdf.Tests.Printing;

namespace AsmLsp.Pdf.Tests;

/// <summary>
/// Programs are printed, scanned in every kind of quality, read by text recognition and recovered; the words of the program
/// before it was printed are the measure. The counts are kept in docs/recovery.md. RELIST_SCAN_ALL=1 takes all programs.
/// </summary>
public class ScannedRecoveryTests
{
    private const string Start = "<!-- generated: scans. A test rewrites this with RELIST_UPDATE_DOCS=1. -->\n";
    private const string End = "<!-- end of scans -->";

    private const DamageKind Listing = DamageKind.LineNumbers | DamageKind.AddressesAndWords;

    // Each style of program and page in the qualities that have been hard for it; each quality by several.
    private static readonly (string Program, DamageKind Layout, int[] Kinds)[] Prints =
    [
        ("01-blinker", DamageKind.None, [0, 3]),
        ("12-serial", DamageKind.HeadersAndFooters, [1, 4]),
        ("10-keypad", DamageKind.AddressesAndWords, [2, 5]),
        ("13-dimmer", DamageKind.ProportionalFont, [0, 4]),
        ("16-i2c-clock", DamageKind.None, [3, 4]),
        ("16-i2c-clock", DamageKind.ProportionalFont, [1]),
        ("18-thermostat", DamageKind.None, [0, 2, 5]),
        ("18-thermostat", Listing, [4]),
        ("21-melody", DamageKind.None, [4]),
        ("22-stepper", DamageKind.ProportionalFont, [3]),
        ("23-cerradura", Listing, [1, 2]),
        ("28-dice", DamageKind.TwoColumns, [0, 5]),
    ];

    // Two pages at a time: reading is slow, and a machine that tests has two processors at the least.
    private const int AtOnce = 2;

    private static bool IsLarge => Environment.GetEnvironmentVariable("RELIST_SCAN_ALL") == "1";

    [Fact]
    public void No_word_of_a_scanned_program_is_silently_wrong()
    {
        var sheets = new List<(string Program, DamageKind Layout, ScanKind Kind)>();
        for (int i = 0; i < ScanKind.All.Count; i++)
        {
            foreach ((string program, DamageKind layout, int[] kinds) in IsLarge ? Large() : Prints)
                if (kinds.Contains(i))
                    sheets.Add((program, layout, ScanKind.All[i]));
        }

        var rows = new Row[sheets.Count];
        Parallel.For(
            0,
            sheets.Count,
            new ParallelOptions { MaxDegreeOfParallelism = AtOnce },
            i =>
            {
                Row row = rows[i] = Recover(sheets[i].Program, sheets[i].Layout, sheets[i].Kind);
                // The large set takes its time: what is known so far can be looked at.
                if (IsLarge)
                    lock (sheets)
                        File.AppendAllText(
                            Path.Combine(Path.GetTempPath(), "relist-scans.txt"),
                            $"{row.Outcome} {row.Kind} {row.Layout} {row.Program}: {row.Marked} of {row.Lines} marked {string.Join("; ", row.Unreported)}\n{(row.Outcome == Outcome.Silent ? row.Source : "")}"
                        );
            }
        );

        string table = Table(rows);
        string[] silent =
        [
            .. rows.Where(r => r.Outcome == Outcome.Silent)
                .Select(r => $"{r.Kind} {r.Layout} {r.Program}: {string.Join("; ", r.Unreported)}\n{r.Source}"),
        ];
        Assert.True(silent.Length == 0, string.Join('\n', silent));
        // Another version of the text recognition reads other characters wrongly: the counts are those of the day, the kinds are held.
        if (!IsLarge)
            RecoveryPage.Hold(Start, End, table, Kinds);
    }

    private sealed record Row(
        ScanKind Kind,
        DamageKind Layout,
        string Program,
        Outcome Outcome,
        List<string> Unreported,
        int Lines,
        int Marked,
        string Source
    );

    private static IEnumerable<(string Program, DamageKind Layout, int[] Kinds)> Large()
    {
        int[] all = [.. Enumerable.Range(0, ScanKind.All.Count)];
        foreach (
            string path in Directory
                .GetFiles(Path.Combine(AppContext.BaseDirectory, "programs"), "*.asm")
                .Order(StringComparer.Ordinal)
        )
        {
            string name = Path.GetFileNameWithoutExtension(path);
            // The printer has no other letters.
            if (
                PrintedTruth.Of(name) is not { HasErrors: false } truth
                || truth.Root.Text.ToString().Any(static c => c > 126)
            )
                continue;
            yield return (name, DamageKind.None, all);
            yield return (name, DamageKind.ProportionalFont, all);
            yield return (name, DamageKind.LineNumbers | DamageKind.AddressesAndWords, all);
        }
    }

    private static Row Recover(string program, DamageKind layout, ScanKind kind)
    {
        ProgramAnalysis truth = PrintedTruth.Of(program);
        Assert.False(truth.HasErrors);
        byte[] print = new BuilderPrinter().Print(
            Sheets.Of(truth.Root.Text.ToString(), layout, PrintedTruth.FirstWords(truth))
        );
        byte[] scan = Scanner.Scan(print, kind);
        // For a look at one of them by hand.
        if (Environment.GetEnvironmentVariable("RELIST_SCAN_KEEP") is { Length: > 0 } folder)
            File.WriteAllBytes(Path.Combine(folder, $"{program} {layout} {kind}.pdf"), scan);
        PrintedReading reading = new OcrReader(new PdfReader(), new ScanOcr()).Read(scan);
        Assert.True(reading.Failure is null, reading.Failure?.Message);
        RecoveryResult result = DocumentRecovery.Run(reading.Document!);
        (Outcome outcome, List<string> unreported) = RecoveryJudge.Judge(truth, result);
        int lines = result.Source.Lines.Count(l => l.Text.AsSpan().Trim() is { IsEmpty: false } text && text[0] != ';');
        int marked = Enumerable
            .Range(0, result.Source.LineCount)
            .Count(i =>
                DoubtMark.Find(result.Source[i].Text) is not null
                || result.Entries.Any(e =>
                    e.Line == i && e.Severity != Core.Problems.Severity.Information && e.EndColumn > 0
                )
            );
        return new Row(
            kind,
            layout,
            program,
            outcome,
            unreported,
            lines,
            marked,
            outcome == Outcome.Silent ? result.Source.ToString() : ""
        );
    }

    private static string Table(Row[] rows)
    {
        var table = new StringBuilder(
            "| scan | sheets | same words | differences reported | silent | lines of code | lines marked |\n| --- | --: | --: | --: | --: | --: | --: |\n"
        );
        foreach (IGrouping<ScanKind, Row> kind in rows.GroupBy(r => r.Kind))
        {
            int Count(Outcome outcome) => kind.Count(r => r.Outcome == outcome);
            table.Append(
                CultureInfo.InvariantCulture,
                $"| {kind.Key} | {kind.Count()} | {Count(Outcome.Identical)} | {Count(Outcome.Flagged)} | {Count(Outcome.Silent)} | {kind.Sum(r => r.Lines)} | {kind.Sum(r => r.Marked)} |\n"
            );
        }

        return table.ToString();
    }

    private static string Kinds(string table) =>
        string.Join(
            '\n',
            table
                .Split('\n')
                .TakeWhile(static l => l.StartsWith('|'))
                .Select(static l => string.Join('|', l.Split('|').Take(3)))
        );
}
