using AsmLsp.Core.Recovery.Results;

namespace AsmLsp.Core.Recovery.Audit;

/// <summary>
/// Looks for a statement in the author's own comment, after a gap: there two text columns of a page were read as one row, or two rows ran
/// together.
/// </summary>
internal static class SwallowedCode
{
    // A gap this wide parts two columns of text.
    private const int Gap = 3;

    // Nobody leaves as much room between a ';' and the code that it switches off.
    private const int Far = 24;

    public static void Check(AuditSheet sheet)
    {
        var sight = new CodeSight(sheet.Names);
        foreach (AuditRow row in sheet.Rows)
        {
            if (!row.HasComment || row.Lines.Count == 0)
                continue;
            int line = row.Lines[^1];
            if (sheet.IsReported(line) || Find(row, sight) is not { } at)
                continue;
            sheet.Mark(
                line,
                DocumentCodes.CodeInComment,
                $"is '{AuditSheet.Short(row.Plain[at..])}' a line of its own?",
                $"'{row.Plain[at..].Trim()}' is in a comment after a wide gap. It may belong to a second column or to the next row. Compare it with the page."
            );
        }
    }

    private static int? Find(AuditRow row, CodeSight sight)
    {
        string text = row.Plain;
        int words = 0;
        for (int i = row.CommentAt + 1; i < text.Length; i++)
        {
            if (text[i] == ' ')
                continue;
            // '; name ; remark': two remarks, one of which belongs to another row.
            if (
                row.CommentAt > row.Start
                && text[i - 1] is ';' or ' '
                && text.IndexOf(';', i) is var next and > 0
                && !text.AsSpan(i, next - i).Trim().ContainsAny(' ', ';')
                && text.AsSpan(row.CommentAt, i - row.CommentAt).Trim("; ".AsSpan()).IsEmpty
                && Syntax.Lexer.IsNameStart(text[i])
            )
                return i;
            if (
                (words > 0 || i - row.CommentAt > Far)
                && i >= Gap
                && text.AsSpan(i - Gap, Gap).Trim(' ').IsEmpty
                && sight.At(text, i, text.Length) == Sight.Code
                && !IsOneStatement(row, sight, i)
            )
                return i;
            if (text[i] != ';')
                words++;
        }

        return null;
    }

    // Code that its author switched off has its label, operation and operands apart.
    private static bool IsOneStatement(AuditRow row, CodeSight sight, int at)
    {
        string text = row.Plain;
        int from = row.CommentAt;
        while (from < at && (text[from] == ';' || text[from] == ' '))
            from++;
        return from < at
            && text.AsSpan(from, at - from).Trim().IndexOf(' ') < 0
            && sight.At(text, from, text.Length) == Sight.Code;
    }
}
