using AsmLsp.Core.Assembly;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Recovery.Audit;

/// <summary>A recovered source beside the printed rows, and what the audit found. Nothing of it says why the source became what it is.</summary>
internal sealed class AuditSheet
{
    private readonly SortedDictionary<int, Doubt> doubts = [];
    private readonly List<RecoveryEntry> entries = [];
    private readonly bool[] reported;
    private readonly bool[] trusted;
    private readonly Dictionary<PrintedPlace, int> rowOf = [];
    private readonly HashSet<string> types;
    private readonly bool isMonospaced;
    private int? endLine;

    public AuditSheet(IReadOnlyList<PrintedPage> pages, RecoveryResult result)
    {
        Result = result;
        var rows = new List<AuditRow>();
        foreach (PrintedPage page in pages)
        {
            foreach (PrintedLine line in page.Lines)
            {
                if (line.Text.AsSpan().Trim().IsEmpty)
                    continue;
                var row = new AuditRow(line, rows.Count);
                rowOf.TryAdd(row.Place, rows.Count);
                rows.Add(row);
            }
        }

        Rows = rows;
        SetAside = [.. pages.SelectMany(static p => p.SetAside)];
        Lines = new string[result.Source.LineCount];
        reported = new bool[Lines.Length];
        trusted = new bool[Lines.Length];
        for (int i = 0; i < Lines.Length; i++)
        {
            string text = result.Source[i].Text;
            reported[i] = DoubtMark.Find(text) is not null;
            Lines[i] = PlainSigns.Of(DoubtMark.Remove(text));
            if (i >= result.Origins.Length)
                continue;
            foreach (PrintedPlace place in result.Origins[i].Places)
                if (rowOf.TryGetValue(place, out int row))
                    rows[row].Lines.Add(i);
        }

        foreach (RecoveryEntry entry in result.Entries)
            if (entry.Severity != Severity.Information && entry.EndColumn > 0 && entry.Line < reported.Length)
                reported[entry.Line] = true;
        Numbers = new RowNumbers(rows);
        Names = new NamesInUse(this);
        List<AuditRow> building = [.. rows.Where(r => r.Lines.Exists(l => Facts(l).Words > 0))];
        types =
        [
            .. building
                .GroupBy(static r => r.Printed.FontFamily)
                .Where(g => g.Count() * 10 >= building.Count)
                .Select(static g => g.Key),
        ];
        isMonospaced = building.Count(static r => r.Printed.IsMonospaced) * 10 > building.Count * 9;
    }

    /// <summary>Rows that the numbers printed in front of the rows around them prove to be no line of the program.</summary>
    public required IReadOnlySet<PrintedPlace> Proved { get; init; }

    /// <summary>Rows whose number or word proves that they are rows of their own.</summary>
    public required IReadOnlySet<PrintedPlace> Own { get; init; }

    /// <summary>Whether the program that includes the source defines a name.</summary>
    public required Func<string, bool> IsOutside { get; init; }

    /// <summary>Whether the numbers say what a row is.</summary>
    public bool IsOwnOrProved(AuditRow row) => Own.Contains(row.Place) || Proved.Contains(row.Place);

    public RecoveryResult Result { get; }

    public IReadOnlyList<AuditRow> Rows { get; }

    /// <summary>The numbers in front of the rows.</summary>
    public RowNumbers Numbers { get; }

    /// <summary>Text of the pages that is in no row: turned, or beyond the edge of the paper.</summary>
    public IReadOnlyList<PrintedLine> SetAside { get; }

    /// <summary>The lines of the source without the marks of doubts, with plain characters.</summary>
    public string[] Lines { get; }

    public NamesInUse Names { get; }

    /// <summary>The line that ends the program, or -1.</summary>
    public int EndLine => endLine ??= FindEnd();

    private int FindEnd()
    {
        for (int i = Lines.Length - 1; i >= 0; i--)
            if (
                LineSyntax.Of(Result.Source[i]).Keyword == Keyword.End
                && (Facts(i).Role & (LineRole.AfterEnd | LineRole.Skipped)) == 0
            )
                return i;
        return -1;
    }

    /// <summary>Whether all of a row is set in another type than the listing, which is set in one of equal widths.</summary>
    public bool IsOtherType(AuditRow row) =>
        isMonospaced
        && !row.Printed.IsMonospaced
        && !types.Contains(row.Printed.FontFamily)
        && !row.Printed.FontNames.Any(types.Contains);

    /// <summary>Notes that what differs between a line and its row has a proof.</summary>
    public void Trust(int line) => trusted[line] = true;

    /// <summary>Whether what differs between a line and its row has a proof, or a doubt.</summary>
    public bool IsAccountedFor(int line) => trusted[line] || reported[line];

    /// <summary>Whether a line has a doubt, a warning or an error already.</summary>
    public bool IsReported(int line) => reported[line];

    public LineFacts Facts(int line) => Result.Program.FactsOf(Result.Program.Root, line);

    /// <summary>The rows that a line comes from, in the order of the print.</summary>
    public IEnumerable<AuditRow> RowsOf(int line)
    {
        if (line < Result.Origins.Length)
            foreach (PrintedPlace place in Result.Origins[line].Places)
                if (rowOf.TryGetValue(place, out int row))
                    yield return Rows[row];
    }

    /// <summary>Whether a warning or an error quotes a printed text.</summary>
    public bool IsQuoted(string text)
    {
        text = text.Trim();
        foreach (RecoveryEntry entry in Result.Entries)
            if (
                entry.Severity != Severity.Information
                && entry.Message.Contains(text, StringComparison.OrdinalIgnoreCase)
            )
                return true;
        return false;
    }

    /// <summary>Puts a doubt on a line with the entry that explains it.</summary>
    public void Mark(int line, string code, string words, string message)
    {
        LineOrigin origin = line < Result.Origins.Length ? Result.Origins[line] : LineOrigin.None;
        doubts.TryAdd(
            line,
            new Doubt(words)
            {
                Kind = DoubtKind.Suspicion,
                Origin = RecoveredDoubts.PrintOf(Result, line),
                Evidence = code,
            }
        );
        entries.Add(
            new RecoveryEntry(
                line,
                0,
                Result.Source[line].Text.Length,
                Severity.Warning,
                code,
                message,
                origin.Page > 0 ? origin.Page : null
            )
        );
        reported[line] = true;
    }

    public RecoveryResult ToResult() => entries.Count == 0 ? Result : RecoveredDoubts.Add(Result, doubts, entries);

    /// <summary>A printed text short enough for a mark; nothing in it can end the mark or start another.</summary>
    public static string Short(string text)
    {
        text = string.Join(' ', text.Split([' ', '\t'], StringSplitOptions.RemoveEmptyEntries))
            .Replace(DoubtMark.Sign, "; ?", StringComparison.Ordinal)
            .Replace('[', '(')
            .Replace(']', ')');
        return text.Length > 48 ? text[..45] + "..." : text;
    }
}
