using AsmLsp.Core.Assembly;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;
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

    // A program with so many paragraphs between its rows is explained piece by piece.
    private const int LeastParagraphs = 3;

    private readonly bool isExplained;
    private readonly AuditSheet sheet;
    private readonly CodeSight sight;
    private readonly PageEdges edges;
    private readonly PrintedWordProof words;
    private readonly PrintedIncludes included;
    private readonly HashSet<string> repeated = new(StringComparer.OrdinalIgnoreCase);

    private LeftOutRows(AuditSheet sheet)
    {
        this.sheet = sheet;
        sight = new CodeSight(sheet.Names);
        edges = new PageEdges(sheet.Rows);
        words = new PrintedWordProof(sheet);
        included = new PrintedIncludes(sheet);
        isExplained = IsExplained();
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
                CheckHeading(rows[i]);
                above = Math.Max(above, rows[i].Lines.Max());
                continue;
            }

            bool isOther = elsewhere.Contains(rows[i].Place);
            if (!isOther && MayBelong(rows[i], above))
                block.Add(rows[i]);
        }

        Report(block, above, -1);
        CheckBeside();
        CheckOthers(elsewhere, first, last);
    }

    // Turned text and text beyond the edge of the paper has no place among the rows: it is quoted at the first line of its page, words of a drawing
    // at the row beside them.
    private void CheckBeside()
    {
        foreach (PrintedLine line in sheet.SetAside.Where(static l => l.Figure == 0))
        {
            AuditRow? row = sheet.Rows.FirstOrDefault(r => r.Printed.Page == line.Page && r.Lines.Count > 0);
            if (row is not null && IsUnreported(line, Sight.Code))
                Report([new AuditRow(line, -1)], -1, row.Lines.Min());
        }

        foreach (var figure in sheet.SetAside.Where(static l => l.Figure > 0).GroupBy(static l => (l.Page, l.Figure)))
        {
            List<PrintedLine> code = [.. figure.Where(l => IsUnreported(l, Sight.Possible))];
            if (code.Count > 0 && RowBeside(code[0]) is { } row)
                sheet.Mark(
                    row.Lines.Min(),
                    DocumentCodes.LeftOutCode,
                    $"is '{AuditSheet.Short(code[0].Text)}' in the drawing a part of the program?",
                    $"A drawing on page {code[0].Page} has words that can be a part of the program, and was left out: '{string.Join(" / ", code.Select(static l => l.Text.Trim()))}'. Put them in if they belong there."
                );
        }
    }

    private bool IsUnreported(PrintedLine line, Sight least)
    {
        string text = PlainSigns.Of(line.Text);
        return sight.Anywhere(text, 0, text.Length) >= least && !sheet.IsQuoted(text);
    }

    // The row of the program at the height of a line of its page; on a page between two of the program's, the row before it.
    private AuditRow? RowBeside(PrintedLine line)
    {
        List<AuditRow> rows = [.. sheet.Rows.Where(static r => r.Lines.Count > 0)];
        if (rows.Count == 0 || line.Page < rows[0].Printed.Page || line.Page > rows[^1].Printed.Page)
            return null;
        return rows.Where(r => r.Printed.Page == line.Page).MinBy(r => Math.Abs(r.Printed.Y - line.Y))
            ?? rows.Last(r => r.Printed.Page < line.Page);
    }

    // A part of this program that was taken for another program uses its names, or has those that it lacks.
    private void CheckOthers(IReadOnlySet<PrintedPlace> elsewhere, int first, int last)
    {
        if (elsewhere.Count == 0)
            return;
        CheckOther(
            [.. sheet.Rows.Take(first).Where(r => elsewhere.Contains(r.Place))],
            sheet.Rows[first].Lines.Min(),
            "above"
        );
        CheckOther(
            [.. sheet.Rows.Skip(last).Where(r => elsewhere.Contains(r.Place))],
            sheet.Rows[last].Lines.Max(),
            "below"
        );
    }

    private void CheckOther(List<AuditRow> rows, int line, string place)
    {
        var lacking = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        foreach (AuditRow row in rows)
        {
            string text = row.Plain[..row.CommentAt];
            foreach (SyntaxToken token in Lexer.Lex(text))
                if (token.Kind == TokenKind.Name && sheet.Names.IsLacking(text.Substring(token.Start, token.Length)))
                {
                    lacking.Add(text.Substring(token.Start, token.Length));
                    break;
                }
        }

        if (lacking.Count == 0)
            return;
        string name = lacking.First();
        sheet.Mark(
            line,
            DocumentCodes.LeftOutCode,
            $"was a part of the program with '{name}' left out {place}?",
            $"{rows.Count} printed rows {place} this line, from '{AuditSheet.Short(rows[0].Plain)}' on{(rows[0].Printed.Page > 0 ? $" (page {rows[0].Printed.Page})" : "")}, were left out as another program, but they have '{name}', which is missing here. Take both, or choose again."
        );
    }

    // A word that nothing uses, beside rows that were left out as text: a heading of the text reads as a label.
    private void CheckHeading(AuditRow row)
    {
        if (row.Lines is not [var line] || row.HasComment || sheet.IsReported(line))
            return;
        LineSyntax syntax = LineSyntax.Of(sheet.Result.Source[line]);
        LineRole role = sheet.Facts(line).Role;
        if (
            syntax.Label is not { } label
            || syntax.OperationToken >= 0
            || syntax.ColonToken >= 0
            || sheet.Names.IsUsed(label)
            || (role & (LineRole.BlockMember | LineRole.Skipped | LineRole.AfterEnd)) != 0
            || !(IsText(row.Index - 1) || IsText(row.Index + 1))
        )
            return;
        sheet.Mark(
            line,
            DocumentCodes.NotAsPrinted,
            "is this a heading of the text?",
            $"No line uses the label '{label}', and rows beside it were left out as text. Compare it with the page."
        );

        bool IsText(int at) =>
            at >= 0
            && at < sheet.Rows.Count
            && sheet.Rows[at].Lines.Count == 0
            && sheet.Rows[at].Printed.Page == row.Printed.Page
            && !(sheet.IsOtherType(sheet.Rows[at]) && isExplained && !sheet.IsOtherType(row))
            && !edges.IsProved(sheet.Rows[at])
            && !edges.IsRepeated(sheet.Rows[at])
            && !edges.IsInMargin(sheet.Rows[at]);
    }

    // Text in its own type between the pieces of the program, again and again: what is set in the type of the program there is no heading of the text.
    private bool IsExplained()
    {
        int paragraphs = 0;
        for (int i = 1; i + 1 < sheet.Rows.Count && paragraphs < LeastParagraphs; i++)
            if (
                sheet.Rows[i].Lines.Count > 0
                && sheet.Rows[i - 1].Lines.Count == 0
                && sheet.IsOtherType(sheet.Rows[i - 1])
            )
                paragraphs++;
        return paragraphs >= LeastParagraphs;
    }

    private bool MayBelong(AuditRow row, int above)
    {
        if (
            row.Start == row.CommentAt
            || sheet.IsOtherType(row)
            || edges.IsProved(row)
            || words.IsBuilt(row)
            || included.Explain(row)
        )
            return false;
        // After the end nothing builds, and nothing ends.
        if (above == sheet.EndLine && above >= 0 && AssemblyLook.IsEnd(row.Plain))
            return false;
        bool isCode = sight.Anywhere(row.Plain, row.Start, row.Plain.Length) == Sight.Code;
        // A row with code that is at the edges of several pages is reported once.
        if (isCode)
            return !edges.IsRepeated(row) || repeated.Add(row.Plain.Trim());
        if (edges.IsRepeated(row) || edges.IsInMargin(row))
            return false;
        string text = AfterGutter(row);
        int end = 0;
        while (end < text.Length && Lexer.IsNamePart(text[end]))
            end++;
        if (end == 0 || !Lexer.IsNameStart(text[0]))
            return false;
        string name = text[..end],
            rest = text[end..].TrimStart(':').Trim();
        if (rest.Length == 0 && (sheet.Names.CanBeLabel(name) || sheet.Names.IsLacking(name)))
            return true;
        // A label that is lacking, whatever follows.
        if (
            sheet.Names.IsLacking(name)
            && (
                text[end..].StartsWith(':')
                || rest.StartsWith(OperationWords.Spell(Keyword.Equ), StringComparison.OrdinalIgnoreCase)
            )
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

    private static string AfterGutter(AuditRow row)
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

    private void Report(List<AuditRow> block, int above, int after)
    {
        block.RemoveAll(r => sheet.IsQuoted(r.Plain));
        if (block.Count == 0)
            return;
        bool isAbove = after >= 0;
        int line = isAbove ? after : above;
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
