using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Tests.Recovery.Document;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Tests.Recovery.Gutter;

/// <summary>Every program of the fixtures, printed with every kind of numbers in front, comes back with its words and without a false alarm.</summary>
public class GutterFormsTests
{
    private static readonly Dictionary<string, Func<SourceRow, IEnumerable<string>>> Forms = new()
    {
        ["numbers, bar"] = static r => [$"{r.Number, 5}| {r.Text}"],
        ["numbers, bar, close"] = static r => [$"{r.Number, 5}|{r.Text}"],
        ["numbers, colon"] = static r => [$"{r.Number, 4}: {r.Text}"],
        ["numbers with zeros, colon"] = static r => [$"{r.Number:D4}: {r.Text}"],
        ["numbers, point"] = static r => [$"{r.Number, 4}. {r.Text}"],
        ["numbers, bracket"] = static r => [$"{r.Number + ")", -6}{r.Text}"],
        ["numbers, arrow"] = static r => [$"{r.Number, 4}> {r.Text}"],
        ["numbers, dash"] = static r => [$"{r.Number, 4} - {r.Text}"],
        ["numbers in brackets"] = static r => [$"{"[" + r.Number + "]", 6} {r.Text}"],
        ["numbers by ten"] = static r => [$"{r.Number * 10, 5}  {r.Text}"],
        ["every fifth"] = static r =>
            [$"{(r.Number % 5 == 0 ? r.Number.ToString(CultureInfo.InvariantCulture) : ""), 4}  {r.Text}"],
        ["every tenth, left"] = static r =>
            [$"{(r.Number % 10 == 0 ? r.Number.ToString(CultureInfo.InvariantCulture) : ""), -6}{r.Text}"],
        ["address alone"] = static r => [$"{Address(r), -6}{r.Text}"],
        ["address, word"] = static r => Rows(r, static (a, w, _) => $"{a}   {w}", 11, r.Text),
        ["address:word"] = static r => Rows(r, static (a, w, _) => $"{a}:{w}", 9, r.Text),
        ["address-word, number"] = static r => Rows(r, static (a, w, n) => $"{a}-{w} {n, 5}", 15, r.Text),
        ["address/word"] = static r => Rows(r, static (a, w, _) => $"{a}/{w}", 9, r.Text),
        ["address=word, number"] = static r => Rows(r, static (a, w, n) => $"{a}={w} {n, 5}", 15, r.Text),
        ["number, address, word, bar"] = static r => Rows(r, static (a, w, n) => $"{n, 5} {a} {w}  |", 17, r.Text),
        ["word, address, number"] = static r => Rows(r, static (a, w, n) => $"{w}  {a} {n, 5}", 16, r.Text),
        ["number, word, address"] = static r => Rows(r, static (a, w, n) => $"{n, 5} {w}  {a}", 16, r.Text),
        ["number, word"] = static r => Rows(r, static (_, w, n) => $"{n, 5} {w}", 10, r.Text),
        ["lower case"] = static r =>
            Rows(r, static (a, w, n) => $"{n, 5} {a.ToLowerInvariant()} {w.ToLowerInvariant()}", 15, r.Text),
        ["words in a row"] = static r =>
            [$"{r.Number, 4} {Address(r)} {string.Join(' ', r.Words.Take(3).Select(Hex)), -14}  {r.Text}"],
        ["numbers in brackets, below each other"] = static r => [$"({r.Number, 3}) {r.Text}"],
    };

    public static TheoryData<string> Names => [.. Forms.Keys];

    [Theory]
    [MemberData(nameof(Names))]
    public void Numbers_of_every_form_are_taken_off_pages(string form) =>
        CheckAll(
            form,
            static (rows, program) =>
                DocumentRecovery.Run(PrintedPages.Of(GutterPrinter.Pages(rows, "Bench notes")), Options(program))
        );

    [Theory]
    [MemberData(nameof(Names))]
    public void Numbers_of_every_form_are_taken_off_pastes(string form) =>
        CheckAll(
            form,
            static (rows, program) => PasteRecovery.Run(SourceText.From(string.Join('\n', rows)), Options(program))
        );

    private static void CheckAll(string form, Func<IEnumerable<string>, ProgramAnalysis, RecoveryResult> recover)
    {
        var failures = new List<string>();
        string[] names = [.. FixturePrograms.Names];
        int offset = Forms.Keys.ToList().IndexOf(form) % 4;
        for (int i = offset; i < names.Length; i += 4)
        {
            ProgramAnalysis program = FixturePrograms.Assemble(names[i]);
            RecoveryResult result = recover(GutterPrinter.Rows(program).SelectMany(Forms[form]), program);
            string[] reported =
            [
                .. result
                    .Entries.Where(static e =>
                        e.Severity != Severity.Information && e.Code != Catalogue.NoConfiguration.Code
                    )
                    .Select(static e => $"  line {e.Line + 1}: {e.Message} [{e.Code}]"),
            ];
            if (WordsOf(result.Program) != WordsOf(program))
                failures.Add($"{names[i]}: other words\n{string.Join('\n', reported.Take(3))}");
            else if (reported.Length > 0)
                failures.Add($"{names[i]}: reported\n{string.Join('\n', reported.Take(3))}");
        }

        Assert.True(failures.Count == 0, string.Join('\n', failures));
    }

    private static DocumentRecoveryOptions Options(ProgramAnalysis program) =>
        new()
        {
            Text = RecoveryOptions.Default with { Name = program.Root.Name, Includes = new FixturePrograms.Beside() },
        };

    private static string WordsOf(ProgramAnalysis program) =>
        string.Join(' ', program.Image.Words.Select(static w => $"{w.Address:X}:{w.Word:X4}"));

    private static string Hex(int word) => word.ToString("X4", CultureInfo.InvariantCulture);

    private static string Address(SourceRow row) => row.Words.Length == 0 ? "    " : Hex(row.Address);

    // The first word is on the line's row, each further one on a row of its own.
    private static IEnumerable<string> Rows(
        SourceRow row,
        Func<string, string, string, string> gutter,
        int width,
        string text
    )
    {
        string number = row.Number.ToString(CultureInfo.InvariantCulture);
        string first =
            row.Words.Length == 0
                ? gutter("    ", "    ", number).Replace(':', ' ').Replace('-', ' ').Replace('/', ' ').Replace('=', ' ')
                : gutter(Hex(row.Address), Hex(row.Words[0]), number);
        yield return first.PadRight(width) + "  " + text;
        for (int i = 1; i < row.Words.Length; i++)
            yield return gutter(Hex(row.Address + i), Hex(row.Words[i]), "").Replace('|', ' ').TrimEnd();
    }
}
