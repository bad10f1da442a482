using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Audit;

/// <summary>
/// Looks for a statement that a lost line end put into the comment of the line above: it has a <c>;</c> of its own after it, or room between
/// operation and operands that no sentence has, or two operands that fit.
/// </summary>
internal sealed class JoinedRows
{
    // As much room as no sentence has between two words.
    private const int Gap = 2;

    // An operation that a slip made unreadable, with its operand.
    private const int MostWords = 2;

    private const int WordsInFront = 3;

    private const int ShortestInstruction = 3;
    private const int LongestInstruction = 8;

    private readonly AuditSheet sheet;
    private readonly CodeSight sight;

    private JoinedRows(AuditSheet sheet)
    {
        this.sheet = sheet;
        sight = new CodeSight(sheet.Names);
    }

    // Whether line ends were lost elsewhere in the text: then words that read as a remark about code may be code as well.
    private bool isLossy;

    public static void Check(AuditSheet sheet)
    {
        var check = new JoinedRows(sheet)
        {
            isLossy = sheet.Result.Entries.Any(static e => e.Code == Catalogue.TwoLinesInOne.Code),
        };
        bool found = check.MarkAll();
        if (!found || check.isLossy)
            return;
        check.isLossy = true;
        check.MarkAll();
    }

    private bool MarkAll()
    {
        bool found = false;
        foreach (AuditRow row in sheet.Rows)
        {
            if (!row.HasComment || row.Lines.Count == 0 || sheet.IsReported(row.Lines[^1]))
                continue;
            int? at =
                !row.IsSilenced ? Find(row)
                : IsOwnRow(row) ? row.Start
                : null;
            if (at is not { } start)
                continue;
            Mark(row, start);
            found = true;
        }

        return found;
    }

    private void Mark(AuditRow row, int at) =>
        sheet.Mark(
            row.Lines[^1],
            DocumentCodes.CodeInComment,
            $"is '{AuditSheet.Short(row.Plain[at..])}' a line of its own?",
            $"'{row.Plain[at..].Trim()}' is in a comment and reads as a line of its own. A line end may be lost before it. Compare it with the page."
        );

    // A row that was taken for the rest of a comment, with a comment of its own.
    private bool IsOwnRow(AuditRow row)
    {
        string text = row.Plain[row.Start..row.CommentAt].Trim();
        if (text.Length == 0)
            return false;
        return (Lexer.IsNameStart(text[0]) && text.TrimEnd(':').All(Lexer.IsNamePart))
            || HasStatement(row)
            || text.AsSpan().Count(' ') < MostWords;
    }

    // A number or a label may be in front of it.
    private bool HasStatement(AuditRow row)
    {
        int words = 0;
        for (int at = row.Start; at < row.CommentAt && words < WordsInFront; at++)
        {
            if (row.Plain[at] == ' ' || (at > row.Start && row.Plain[at - 1] != ' '))
                continue;
            if (sight.At(row.Plain, at, row.CommentAt) != Sight.None)
                return true;
            words++;
        }

        return false;
    }

    private int? Find(AuditRow row)
    {
        string text = row.Plain;
        int from = row.CommentAt;
        while (from < text.Length)
        {
            // Each comment of the row by itself, without the signs in front of it.
            while (from < text.Length && text[from] is ';' or ' ')
                from++;
            int next = text.IndexOf(';', from);
            int to = next < 0 ? text.Length : next;
            if (from < to && FindBefore(row, from, to, next >= 0) is { } at)
                return at;
            from = to;
        }

        return null;
    }

    private int? FindBefore(AuditRow row, int from, int to, bool hasComment)
    {
        string text = row.Plain;
        bool isBesideCode = row.CommentAt > Math.Max(row.Start, row.TextStart);
        // Code that its author switched off is all of a comment; beside other code it has no comment of its own.
        if (IsSwitchedOff(text, from, to))
            return isBesideCode && hasComment && !IsFormula(text[from..to]) ? from : null;
        for (int i = from + 1; i < to; i++)
        {
            if (text[i] == ' ')
                continue;
            int end = i;
            while (end < to && char.IsAsciiLetter(text[end]))
                end++;
            bool isInWord = text[i - 1] != ' ';
            if (isInWord && !IsInstructionInWord(text, i, end))
                continue;
            if (sight.At(text, i, to) != Sight.Code)
                continue;
            // A formula about a value is a remark.
            if (IsFormula(text[i..to]))
                continue;
            bool isWhole = text.AsSpan(sight.FoundEnd, to - sight.FoundEnd).Trim().IsEmpty;
            bool isProved = isInWord
                ? isWhole && (hasComment || HasRoom(row, i, to) || !CodeSight.IsWord(text[i..end]))
                : (isWhole && (hasComment || HasRoom(row, i, to))) || IsNoWords(text[i..to], isBesideCode && isWhole);
            if (isProved)
                return i;
        }

        return null;
    }

    private bool IsSwitchedOff(string text, int from, int to)
    {
        if (sight.At(text, from, to) != Sight.Code)
            return false;
        int end = from;
        while (end < to && Lexer.IsNamePart(text[end]))
            end++;
        string first = text[from..end];
        return OperationWords.Find(first) is not null
            || first is ""
            || sheet.Names.IsMacro(first)
            || sheet.Names.IsStatement(first)
            || sheet.Names.IsUsed(first)
            // A label leaves room before its operation; the last word of a remark, one blank.
            || !text.AsSpan(end).StartsWith(" ")
            || text.AsSpan(end).StartsWith("  ");
    }

    private static bool IsFormula(string text) => LineSyntax.Parse(text).Keyword == Keyword.Assign;

    private static bool IsInstructionInWord(string text, int at, int end) =>
        end - at is >= ShortestInstruction and <= LongestInstruction
        && text[at - 1] is not '_' and not '-' and not '/'
        && (end == text.Length || text[end] == ' ')
        && OperationWords.KindOf(text.AsSpan(at, end - at)) == OperationKind.Instruction;

    // A tab, or as many blanks as columns have.
    private static bool HasRoom(AuditRow row, int from, int to)
    {
        string printed = row.Printed.Text;
        int at = from;
        while (at < to && row.Plain[at] != ' ')
            at++;
        int end = at;
        while (end < to && row.Plain[end] == ' ')
            end++;
        return end < to && (end - at >= Gap || printed.AsSpan(at, end - at).Contains('\t'));
    }

    // A statement that nobody writes about: with two operands beside other code, or a directive with what only it has.
    private bool IsNoWords(string text, bool isBesideCode)
    {
        LineSyntax syntax = LineSyntax.Parse(" " + text);
        if (syntax.Label is not null)
            return false;
        return syntax.Keyword is Keyword.List or Keyword.Include or Keyword.Configuration
            || (
                isBesideCode
                && syntax.OperationKind == OperationKind.Instruction
                && (
                    (syntax.Operands.Length == 2 && !CodeSight.IsWord(syntax.Operation!))
                    || (isLossy && syntax.Operands.Length == 1 && sheet.Names.IsKnown(syntax.OperandText.Trim()))
                )
            );
    }
}
