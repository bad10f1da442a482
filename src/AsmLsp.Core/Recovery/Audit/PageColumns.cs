using AsmLsp.Core.Assembly;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Audit;

/// <summary>
/// Asks of each page whether it was read in the text columns in which it is printed. Where rows hold text of two columns, or where a statement was cut
/// in two, the order of the page is not known: no line of it goes without a doubt.
/// </summary>
internal sealed class PageColumns
{
    // Blanks that part two columns of text.
    private const int Gap = 3;

    // Rows that show it. One may be chance.
    private const int Least = 3;

    // A column of text leaves its labels as much room in front of the operations.
    private const double LabelRoom = 12;

    private readonly AuditSheet sheet;
    private readonly CodeSight sight;

    private PageColumns(AuditSheet sheet)
    {
        this.sheet = sheet;
        sight = new CodeSight(sheet.Names);
    }

    public static void Check(AuditSheet sheet)
    {
        var check = new PageColumns(sheet);
        IReadOnlyList<AuditRow> rows = sheet.Rows;
        for (int i = 0; i < rows.Count; )
        {
            int start = i;
            while (i < rows.Count && rows[i].Printed.Page == rows[start].Printed.Page)
                i++;
            check.CheckPage([.. rows.Skip(start).Take(i - start)]);
        }
    }

    private void CheckPage(List<AuditRow> page)
    {
        if (!page.Exists(static r => r.Lines.Count > 0) || IsReadAsDrawn(page))
            return;
        if (IsReadAcross(page) || IsCut(page) || IsMixed(page))
        {
            foreach (AuditRow row in page)
            foreach (int line in row.Lines)
                Mark(line);
            return;
        }

        CheckEdges(page);
        CheckLoneMarks(page);
        CheckBands(page);
    }

    // Text in the left column that is no part of the program, beside a gap in the right one: it may part the page, and both columns may end above it.
    private void CheckBands(List<AuditRow> page)
    {
        AuditRow[] left = [.. page.Where(static r => r.Printed.TextColumn == 0).OrderBy(static r => r.Printed.Y)],
            right = [.. page.Where(static r => r.Printed.TextColumn > 0).OrderBy(static r => r.Printed.Y)];
        for (int i = 0; i < left.Length; )
        {
            int start = i;
            while (i < left.Length && left[i].Lines.Count == 0)
                i++;
            if (start > 0 && i < left.Length && i > start)
                CheckBand(left[start..i], left[i], right);
            i++;
        }
    }

    private void CheckBand(AuditRow[] band, AuditRow below, AuditRow[] right)
    {
        double top = band[0].Printed.Y,
            bottom = band[^1].Printed.Y;
        AuditRow? above = Array.Find(right, r => r.Lines.Count > 0 && r.Printed.Y < top);
        if (
            above is null
            || above.Index < below.Index
            || !Array.Exists(right, r => r.Lines.Count > 0 && r.Printed.Y > bottom)
            || Array.Exists(right, r => r.Printed.Y > top - 1 && r.Printed.Y < bottom + 1)
            || sheet.IsReported(below.Lines.Min())
        )
            return;
        sheet.Mark(
            below.Lines.Min(),
            DocumentCodes.NotAsPrinted,
            "do both columns end at the text above this line?",
            $"The text above '{below.Plain.Trim()}' may part the page: then the right column above it belongs before this line. Compare the order with the page."
        );
    }

    // Two columns that the document draws one after the other, row by row, are two columns: one text is drawn across.
    private static bool IsReadAsDrawn(List<AuditRow> page)
    {
        int last = -1;
        bool hasColumns = false;
        foreach (AuditRow row in page)
        {
            if (row.Lines.Count == 0)
                continue;
            (int from, int to) = row.Printed.Drawn;
            if (to < from || from <= last)
                return false;
            last = to;
            hasColumns |= row.Printed.TextColumn > 0;
        }

        return hasColumns;
    }

    // The first or the last row of two columns that was read across: its right part belongs to the right column.
    private void CheckEdges(List<AuditRow> page)
    {
        List<AuditRow> right = [.. page.Where(static r => r.Printed.TextColumn > 0 && r.Lines.Count > 0)];
        if (right.Count < Least)
            return;
        double x = right.Min(static r => r.Printed.X) - 1;
        foreach (AuditRow row in page)
        {
            if (row.Printed.TextColumn > 0 || TextAt(row, x) is not { } at || at == row.Start)
                continue;
            bool isAbove = row.Printed.Y < right[0].Printed.Y;
            int line = isAbove ? right[0].Lines.Min() : right[^1].Lines.Max();
            string text = row.Plain[at..].Trim(),
                place = isAbove ? "above" : "below";
            if (text[0] != ';' && !sheet.IsReported(line))
                sheet.Mark(
                    line,
                    DocumentCodes.LeftOutCode,
                    $"was '{AuditSheet.Short(text)}' left out {place}?",
                    $"A printed row that can be a part of the program may be missing {place} this line, as it was read across two columns: '{text}'. Compare the place with the page."
                );
        }
    }

    // A ';' at the edge of the right column that was taken for the left one: what follows it is a comment.
    private void CheckLoneMarks(List<AuditRow> page)
    {
        double left = double.MaxValue;
        var marks = new List<double>();
        foreach (AuditRow row in page)
            if (row.Printed.TextColumn == 0)
                left = Math.Min(left, row.Printed.X);
        foreach (AuditRow row in page)
        {
            int last = row.Plain.Length - 1;
            if (row.Printed.TextColumn != 0 || row.Plain[last] != ';' || (last > 0 && row.Plain[last - 1] != ' '))
                continue;
            double x = row.Printed.CharacterStarts.Length > last ? row.Printed.CharacterStarts[last] : row.Printed.X;
            if (x > left + 5 * LabelRoom)
                marks.Add(row.Printed.Y);
        }

        if (marks.Count == 0)
            return;
        foreach (AuditRow row in page)
            if (
                row.Printed.TextColumn > 0
                && row.Plain[row.Start] != ';'
                && marks.Exists(y => Math.Abs(y - row.Printed.Y) < 1)
            )
                foreach (int line in row.Lines)
                    Mark(line);
    }

    private void Mark(int line)
    {
        if (sheet.IsReported(line))
            return;
        LineFacts facts = sheet.Facts(line);
        if ((facts.Role & (LineRole.Skipped | LineRole.AfterEnd)) != 0)
            return;
        if (LineSyntax.Of(sheet.Result.Source[line]).IsBlank)
            return;
        sheet.Mark(
            line,
            DocumentCodes.NotAsPrinted,
            "are the columns of the page read right?",
            $"The columns of this page may have been read in the wrong order: lines can be missing here. Compare '{sheet.Lines[line].Trim()}' and its neighbors with the page."
        );
    }

    // Rows that hold something on the left and, after a wide gap, a statement of its own.
    private bool IsReadAcross(List<AuditRow> page)
    {
        int found = 0;
        foreach (AuditRow row in page)
            if (HasTwoTexts(row) && ++found == Least)
                return true;
        return false;
    }

    private bool HasTwoTexts(AuditRow row)
    {
        string text = row.Plain;
        for (int i = row.Start + Gap + 1; i < text.Length; i++)
        {
            if (text[i] == ' ' || !text.AsSpan(i - Gap, Gap).Trim(' ').IsEmpty)
                continue;
            if (!IsText(text.AsSpan(row.Start, i - row.Start)) || sight.At(text, i, text.Length) != Sight.Code)
                continue;
            int start = GutterRow.AfterNumbers(text);
            if (row.CommentAt < i || sight.At(text, start, text.Length) != Sight.Code || IsStatement(text[start..i]))
                return true;
        }

        return false;
    }

    // An instruction with all of its operands: what follows it in its row is no part of it.
    private bool IsStatement(string left)
    {
        LineSyntax syntax = LineSyntax.Parse(" " + left.Trim());
        return syntax.OperationKind == OperationKind.Instruction
            && sight.At(left, left.Length - left.AsSpan().TrimStart().Length, left.Length) == Sight.Code
            && !syntax.Operands.Any(static o => o.Leftover.Length > 0);
    }

    // Words of a remark or a sentence: what is in front of a statement otherwise is a label and the numbers of a gutter.
    private static bool IsText(ReadOnlySpan<char> left)
    {
        bool isComment = left[0] == ';';
        int words = 0;
        foreach (Range range in left.Split(' '))
        {
            ReadOnlySpan<char> word = left[range].Trim("; ".AsSpan());
            if (word.Length > 1 && word.ContainsAnyExcept("0123456789ABCDEFabcdef:|.)->+*?=;/[](){}<,#".AsSpan()))
                words++;
        }

        return words >= 2 || (isComment && words >= 1 && left.TrimEnd().Contains(' '));
    }

    // Two columns were made of one: the left one ends in operations that lack their operands.
    private static bool IsCut(List<AuditRow> page)
    {
        int found = 0;
        foreach (AuditRow row in page)
        {
            if (row.Printed.TextColumn == 0 || row.HasComment && row.CommentAt == row.Start)
                continue;
            foreach (AuditRow left in page)
                if (
                    left.Printed.TextColumn == row.Printed.TextColumn - 1
                    && Math.Abs(left.Printed.Y - row.Printed.Y) < 1
                    && LacksOperand(left)
                    && ++found == Least
                )
                    return true;
        }

        return false;
    }

    private static bool LacksOperand(AuditRow row)
    {
        if (row.HasComment)
            return false;
        ReadOnlySpan<char> text = row.Plain.AsSpan().TrimEnd();
        ReadOnlySpan<char> last = text[(text.LastIndexOf(' ') + 1)..];
        return OperationWords.KindOf(last) switch
        {
            OperationKind.Instruction => !OperationWords.TakesNoOperand(last),
            OperationKind.Assignment => true,
            _ => IsOpenDefinition(text.Trim(), last.Length),
        };
    }

    // '#define' with a name and nothing for it.
    private static bool IsOpenDefinition(ReadOnlySpan<char> text, int last)
    {
        int end = text.IndexOf(' ');
        ReadOnlySpan<char> first = end < 0 ? text : text[..end];
        return first is ['#', ..]
            && OperationWords.KeywordOf(first) == Keyword.Define
            && text.Count(' ') == text.Length - last - first.Length;
    }

    // A part of the page was read in columns, and other rows hold text at the place of the right one.
    private static bool IsMixed(List<AuditRow> page)
    {
        double right = double.MaxValue;
        int rows = 0;
        foreach (AuditRow row in page)
        {
            if (row.Printed.TextColumn == 0)
                continue;
            rows++;
            right = Math.Min(right, row.Printed.X);
        }

        if (rows < Least)
            return false;
        int found = 0;
        foreach (AuditRow row in page)
        {
            if (row.Printed.TextColumn > 0 || row.Lines.Count == 0)
                continue;
            if (HasTextAt(row, right - 1) && ++found == Least)
                return true;
        }

        return false;
    }

    private static bool HasTextAt(AuditRow row, double x) => TextAt(row, x) is not null;

    // The column at which a row continues right of a place, after a gap.
    private static int? TextAt(AuditRow row, double x)
    {
        if (row.Printed.X >= x)
            return row.Start;
        var starts = row.Printed.CharacterStarts;
        if (starts.Length < row.Plain.Length)
            return null;
        for (int i = row.Start + Gap + 1; i < row.Plain.Length; i++)
            if (
                row.Plain[i] != ' '
                && starts[i] >= x
                && starts[i] < x + LabelRoom * 5
                && row.Plain.AsSpan(i - Gap, Gap).Trim(' ').IsEmpty
            )
                return i;
        return null;
    }
}
