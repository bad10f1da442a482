using AsmLsp.Core.Assembly;
using AsmLsp.Core.Recovery.Document;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Recovery.Audit;

/// <summary>
/// Looks at the rows that came into no line of the source: between the first row of the program and its last, and some before and after. One
/// that can be a part of the program is quoted at its place; rows that follow each other are one doubt.
/// </summary>
internal sealed class LeftOutRows
{
    // As many rows before the first line and after the last may still belong to the program.
    private const int Near = 40;

    private readonly AuditSheet sheet;
    private readonly CodeSight sight;
    private readonly PageEdges edges;
    private readonly PrintedWordProof words;
    private readonly HashSet<string> repeated = new(StringComparer.OrdinalIgnoreCase);

    private LeftOutRows(AuditSheet sheet)
    {
        this.sheet = sheet;
        sight = new CodeSight(sheet.Names);
        edges = new PageEdges(sheet.Rows);
        words = new PrintedWordProof(sheet);
    }

    public static void Check(AuditSheet sheet, IReadOnlySet<PrintedPlace> elsewhere) =>
        new LeftOutRows(sheet).Check(elsewhere);

    private void Check(IReadOnlySet<PrintedPlace> elsewhere)
    {
        IReadOnlyList<AuditRow> rows = sheet.Rows;
        int first = 0,
            last = rows.Count - 1;
        while (first < rows.Count && rows[first].Lines.Count == 0)
            first++;
        while (last >= 0 && rows[last].Lines.Count == 0)
            last--;
        if (last < 0)
            return;
        int above = -1;
        var block = new List<AuditRow>();
        for (int i = Math.Max(0, first - Near); i < Math.Min(rows.Count, last + Near); i++)
        {
            if (rows[i].Lines.Count > 0)
            {
                Report(block, above, rows[i].Lines.Min());
                block.Clear();
                above = Math.Max(above, rows[i].Lines.Max());
                continue;
            }

            bool isOther = elsewhere.Contains(rows[i].Place);
            if (!isOther && MayBelong(rows[i], above))
                block.Add(rows[i]);
        }

        Report(block, above, -1);
    }

    private bool MayBelong(AuditRow row, int above)
    {
        if (row.Start == row.CommentAt || sheet.IsOtherType(row) || edges.IsProved(row) || words.IsBuilt(row))
            return false;
        bool isCode = sight.Anywhere(row.Plain, row.Start, row.Plain.Length) == Sight.Code;
        // A row with code that stands at the edges of several pages is reported once.
        if (isCode)
            return !edges.IsRepeated(row) || repeated.Add(row.Plain.Trim());
        if (edges.IsRepeated(row))
            return false;
        string text = BehindGutter(row);
        int end = 0;
        while (end < text.Length && Syntax.Lexer.IsNamePart(text[end]))
            end++;
        if (end == 0 || !Syntax.Lexer.IsNameStart(text[0]))
            return false;
        string name = text[..end],
            rest = text[end..].TrimStart(':').Trim();
        if (rest.Length == 0 && (sheet.Names.CanBeLabel(name) || sheet.Names.IsLacking(name)))
            return true;
        // A label that is lacking, whatever follows.
        if (
            sheet.Names.IsLacking(name)
            && (text[end..].StartsWith(':') || rest.StartsWith("equ", StringComparison.OrdinalIgnoreCase))
        )
            return true;
        return rest.Length == 0 && IsInBlock(above);
    }

    private bool IsInBlock(int above)
    {
        if (above < 0 || above + 1 >= sheet.Lines.Length)
            return false;
        return (sheet.Facts(above).Role & LineRole.BlockMember) != 0
            && (sheet.Facts(above + 1).Role & LineRole.BlockMember) != 0;
    }

    private static string BehindGutter(AuditRow row)
    {
        int at = row.Start;
        string text = row.Plain[..row.CommentAt];
        while (at < text.Length)
        {
            int end = at;
            while (end < text.Length && (char.IsAsciiDigit(text[end]) || CodeSight.IsGutterSign(text[end])))
                end++;
            if (end == at || (end < text.Length && text[end] != ' '))
                break;
            at = end;
            while (at < text.Length && text[at] == ' ')
                at++;
        }

        return text[at..].Trim();
    }

    private void Report(List<AuditRow> block, int above, int behind)
    {
        block.RemoveAll(r => sheet.IsQuoted(r.Plain));
        if (block.Count == 0)
            return;
        bool isAbove = behind >= 0;
        int line = isAbove ? behind : above;
        string first = AuditSheet.Short(block[0].Plain),
            place = isAbove ? "above" : "below",
            all = string.Join(" / ", block.Select(static r => r.Plain.Trim()));
        sheet.Mark(
            line,
            DocumentCodes.LeftOutCode,
            block.Count == 1
                ? $"was '{first}' left out {place}?"
                : $"were {block.Count} rows left out {place}, from '{first}' on?",
            block.Count == 1
                ? $"A printed row that can be a part of the program was left out {place} this line: '{all}'. Put it in if it belongs there."
                : $"{block.Count} printed rows that can be parts of the program were left out {place} this line: '{all}'. Put them in if they belong there."
        );
    }
}
