using AsmLsp.Core.Instructions;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Audit;

/// <summary>
/// Asks about an instruction without operands that starts far to the left of the rows of its page: a heading in the margin that happens to be the
/// name of one, such as <c>Sleep</c>, puts a word into the program.
/// </summary>
internal static class MarginWords
{
    // So many rows show where the rows of a page start.
    private const int LeastRows = 12;

    // So many columns of white are between headings and rows, and of ten rows one at most is that far left.
    private const int LeastGap = 4;
    private const int RowsForOne = 10;

    public static void Check(AuditSheet sheet)
    {
        foreach (var page in sheet.Rows.Where(static r => r.Lines.Count > 0).GroupBy(static r => r.Place.Page))
        {
            AuditRow[] rows = [.. page];
            if (rows.Length < LeastRows)
                continue;
            foreach (AuditRow row in rows)
                if (IsBare(sheet, row) && rows.Count(r => r.Start < row.Start + LeastGap) * RowsForOne <= rows.Length)
                    sheet.Mark(
                        row.Lines[0],
                        DocumentCodes.NotAsPrinted,
                        $"is '{AuditSheet.Short(row.Plain[row.Start..])}' in the margin a part of the program?",
                        $"'{row.Plain[row.Start..].Trim()}' starts far to the left of the other rows, where headings are. Compare it with the page."
                    );
        }
    }

    private static bool IsBare(AuditSheet sheet, AuditRow row)
    {
        if (sheet.IsReported(row.Lines[0]) || sheet.Facts(row.Lines[0]).Words != 1)
            return false;
        string first = row.Plain[row.Start..row.CommentAt].Trim();
        return OperationWords.Find(first) is { Kind: OperationKind.Instruction };
    }
}
