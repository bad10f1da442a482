using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Audit;

/// <summary>
/// Where the page itself shows that it wrapped a row. Programs that break a text at a width leave the blank at which they broke it, and draw it; others
/// set the rest of a comment below its text, where no row of code starts. Either counts only where the rows that are beyond
/// doubt bear it out.
/// </summary>
internal sealed class PrintedBreaks
{
    // Rows of either kind that have to bear it out.
    private const int LeastRests = 3;
    private const int LeastOwn = 10;

    // Rests below the text of their comments, and how far to the right they are at least.
    private const int LeastHanging = 5;
    private const int Deep = 12;

    private readonly AuditSheet sheet;
    private readonly bool areShown;
    private readonly bool isBlankShown;
    private readonly bool areHanging;
    private readonly HashSet<(int TextColumn, int Column)> starts = [];

    public PrintedBreaks(AuditSheet sheet, CodeSight sight)
    {
        this.sheet = sheet;
        int rests = 0,
            restsAfterBlank = 0,
            own = 0,
            ownAfterBlank = 0,
            hanging = 0;
        foreach (AuditRow row in sheet.Rows)
        {
            if (row.Lines.Count > 0 && row.CommentAt > row.Start && IsSure(row, sight))
                starts.Add((row.Printed.TextColumn, row.Start));
            if (row.Lines.Count == 0 || Above(row) is not { HasComment: true } above)
                continue;
            if (row.CommentAt == row.Start || IsSure(row, sight))
            {
                own++;
                ownAfterBlank += above.Printed.EndsInBlank ? 1 : 0;
            }
            else if (
                !row.HasComment
                && row.Plain.AsSpan().Trim().Contains(' ')
                && sight.Anywhere(row.Plain, row.Start, row.Plain.Length) == Sight.None
            )
            {
                rests++;
                hanging += HangsBelow(row, above) ? 1 : 0;
                restsAfterBlank += above.Printed.EndsInBlank ? 1 : 0;
            }
        }

        areShown =
            rests >= LeastRests && own >= LeastOwn && restsAfterBlank * 20 >= rests * 19 && ownAfterBlank * 50 <= own;
        // Where the author's own editor has wrapped the text before, its rests come without the blank.
        isBlankShown = restsAfterBlank >= LeastRests && own >= LeastOwn && ownAfterBlank * 50 <= own;
        areHanging = hanging >= LeastHanging && hanging * 10 >= rests * 6;
    }

    /// <summary>Whether a row continues with the row above.</summary>
    public bool IsRest(AuditRow row) =>
        (isBlankShown && Above(row) is { Printed.EndsInBlank: true }) || (areHanging && IsHanging(row));

    /// <summary>Whether a row begins anew.</summary>
    public bool IsOwn(AuditRow row) => areShown && Above(row) is { Printed.EndsInBlank: false };

    // Below the text of the comment, or below a row that is.
    private bool IsHanging(AuditRow row)
    {
        if (row.Start < Deep || row.HasComment || starts.Contains((row.Printed.TextColumn, row.Start)))
            return false;
        AuditRow? above = Above(row);
        while (above is { HasComment: false } && above.Start == row.Start)
            above = Above(above);
        return above is not null && HangsBelow(row, above);
    }

    private static bool HangsBelow(AuditRow row, AuditRow above)
    {
        int text = above.CommentAt;
        while (text < above.Plain.Length && above.Plain[text] is ';' or ' ')
            text++;
        return above.HasComment && row.Start >= Deep && Math.Abs(row.Start - text) <= 1;
    }

    // The row above that came into the source.
    private AuditRow? Above(AuditRow row)
    {
        for (int i = row.Index - 1; i >= 0; i--)
            if (sheet.Rows[i].Lines.Count > 0)
                return sheet.Rows[i];
        return null;
    }

    private static bool IsSure(AuditRow row, CodeSight sight)
    {
        if (sight.At(row.Plain, row.Start, row.Plain.Length) != Sight.Code)
            return false;
        LineSyntax syntax = LineSyntax.Parse(row.Plain);
        return syntax.Operation is { } operation
            && !CodeSight.IsWord(operation)
            && OperationWords.KindOf(operation) == OperationKind.Instruction;
    }
}
