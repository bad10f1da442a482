using System.Globalization;
using System.Text;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Recovery.Evidence;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Text;

namespace AsmLsp.Pdf.Tests;

/// <summary>
/// Programs of the fixtures as other programs have printed them (tests/fixtures/prints, made by its print.py): read, compared with what
/// <c>pdftotext</c> reads there, recovered, and compared with the program. The table is kept in docs/recovery.md.
/// </summary>
public class PrintsTests
{
    private const string Start = "<!-- generated: prints. A test rewrites this with RELIST_UPDATE_DOCS=1. -->\n";
    private const string End = "<!-- end of prints -->";

    // Only the font program in the file knows the letters there, and pdftotext does not ask it.
    private static readonly string[] UnreadOutside = ["cups--15-semaforo"];

    private static readonly (string Name, string Made)[] Makers =
    [
        ("latex-dots", "LaTeX, letters as dots (Type 3)"),
        ("latex-listing", "LaTeX, `listings` with prose and line numbers"),
        ("latex-outlines", "LaTeX, letters as outlines (Type 1)"),
        ("latex-postscript", "LaTeX, dvips and Ghostscript"),
        ("office-text", "LibreOffice, text file"),
        ("office-serif", "LibreOffice, tabulators in a serif font, heads and feet"),
        ("office-table", "LibreOffice, table with several lines in cells"),
        ("office-list", "LibreOffice, numbered list"),
        ("web-kit", "wkhtmltopdf"),
        ("web-justified", "WeasyPrint, justified, with hyphens"),
        ("web-table", "WeasyPrint, table with line numbers"),
        ("web-article", "WeasyPrint, below an article in two columns"),
        ("web-columns", "Chromium, prose and program in two columns"),
        ("report", "ReportLab, Courier"),
        ("report-truetype", "ReportLab, a sans font"),
        ("report-two-up", "ReportLab, two pages on a sheet"),
        ("troff", "groff"),
        ("enscript", "GNU Enscript and Ghostscript"),
        ("a2ps", "GNU a2ps, two pages on a sheet, and Ghostscript"),
        ("cups", "filter of CUPS, font without a map"),
    ];

    private static readonly string Folder = Path.Combine(AppContext.BaseDirectory, "prints");

    [Fact]
    public void No_word_of_a_print_is_silently_wrong()
    {
        var table = new StringBuilder(
            "| printed with | same words | lines of code | lines marked | silent |\n| --- | --- | --: | --: | --: |\n"
        );
        var silent = new List<string>();
        string[] files = Directory.GetFiles(Folder, "*.pdf");
        Assert.Equal(Makers.Select(m => m.Name).Order(), files.Select(LayoutOf).Order());
        foreach ((string name, string made) in Makers)
        {
            string file = files.Single(f => LayoutOf(f) == name);
            ProgramAnalysis truth = PrintedTruth.Of(Path.GetFileNameWithoutExtension(file).Split("--")[1]);
            Assert.False(truth.HasErrors);
            RecoveryResult result = DocumentRecovery.Run(Read(file));
            (Outcome outcome, List<string> unreported) = RecoveryJudge.Judge(truth, result);
            if (outcome == Outcome.Silent)
                silent.Add($"{name}: {string.Join("; ", unreported)}\n{result.Source}");
            int lines = result.Source.Lines.Count(l =>
                l.Text.AsSpan().Trim() is { IsEmpty: false } text && text[0] != ';'
            );
            int marked = Enumerable
                .Range(0, result.Source.LineCount)
                .Count(i =>
                    DoubtMark.Find(result.Source[i].Text) is not null
                    || result.Entries.Any(e => e.Line == i && e.Severity != Severity.Information && e.EndColumn > 0)
                );
            table.Append(
                CultureInfo.InvariantCulture,
                $"| {made} | {(outcome == Outcome.Identical ? "yes" : "no")} | {lines} | {marked} | {(outcome == Outcome.Silent ? 1 : 0)} |\n"
            );
        }

        Assert.True(silent.Count == 0, string.Join('\n', silent));
        RecoveryPage.Hold(Start, End, table.ToString());
    }

    [Fact]
    public void Characters_of_a_print_are_those_that_an_independent_reader_finds()
    {
        foreach (string file in Directory.GetFiles(Folder, "*.pdf"))
        {
            string name = Path.GetFileNameWithoutExtension(file);
            string ours = Characters(
                string.Concat(Read(file).Pages.SelectMany(p => p.Lines.Concat(p.SetAside)).Select(l => l.Text))
            );
            // Where the file names a shape by its code alone, pdftotext gives the code: that of the joined letters in TeX's table.
            string outside = Characters(
                Paper.Outside(File.ReadAllBytes(file)).Replace("\u001C", "fi", StringComparison.Ordinal)
            );
            if (UnreadOutside.Contains(name))
                Assert.NotEqual(outside, ours);
            else
                Assert.True(
                    outside == ours,
                    $"{name}: only theirs '{Less(outside, ours)}', only ours '{Less(ours, outside)}'"
                );
        }
    }

    // Columns and cells are read in other orders: what counts is that each character is there, as often as it is printed.
    private static string Characters(string text)
    {
        var plain = new StringBuilder();
        foreach (char c in text.Normalize(NormalizationForm.FormKC))
            if (!char.IsWhiteSpace(c) && !char.IsControl(c))
                plain.Append(
                    c switch
                    {
                        '\u2018' or '\u2019' or '`' => '\'',
                        '\u201C' or '\u201D' => '"',
                        '\u00AD' or '\u2010' => '-',
                        _ => c,
                    }
                );
        char[] sorted = plain.ToString().ToCharArray();
        Array.Sort(sorted);
        return new string(sorted);
    }

    // What of one row of characters is not in the other.
    private static string Less(string all, string others)
    {
        var left = new List<char>(others);
        return string.Concat(all.Where(c => !left.Remove(c)));
    }

    private static string LayoutOf(string file) => Path.GetFileNameWithoutExtension(file).Split("--")[0];

    private static PrintedDocument Read(string file)
    {
        PrintedReading reading = new PdfReader().Read(File.ReadAllBytes(file));
        Assert.True(reading.Failure is null, $"{file}: {reading.Failure?.Message}");
        return reading.Document!;
    }
}
