using AsmLsp.Core.Printed;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Recovery.Audit;

/// <summary>
/// The last stage of recovery, which trusts none of the others. It sees the printed rows, the source with its doubts and what the source
/// builds, and holds that nothing was lost or changed without a mark: each piece of each row is in a line, in a comment that the author wrote, or it
/// is no code; each line that makes a word has the characters of its row. What it cannot prove becomes a doubt.
/// </summary>
internal static class Auditor
{
    /// <summary>The result with the doubts that the audit adds.</summary>
    /// <param name="pages">The printed pages as they were read.</param>
    /// <param name="result">The recovered source; its origins name places on the pages.</param>
    /// <param name="elsewhere">Rows of other programs of the document, which were left out on purpose.</param>
    /// <param name="proved">Rows that the numbers printed in front of the rows around them prove to be no line of the program.</param>
    /// <param name="own">Rows whose number or word proves that they are rows of their own.</param>
    /// <param name="isOutside">For a file that a program includes: whether the program defines a name outside it; null for a program.</param>
    public static RecoveryResult Check(
        IReadOnlyList<PrintedPage> pages,
        RecoveryResult result,
        IReadOnlySet<PrintedPlace>? elsewhere = null,
        IReadOnlySet<PrintedPlace>? proved = null,
        IReadOnlySet<PrintedPlace>? own = null,
        Func<string, bool>? isOutside = null
    )
    {
        ArgumentNullException.ThrowIfNull(pages);
        ArgumentNullException.ThrowIfNull(result);
        if (result.Source.LineCount == 0)
            return result;
        var sheet = new AuditSheet(pages, result)
        {
            Proved = proved ?? new HashSet<PrintedPlace>(),
            Own = own ?? new HashSet<PrintedPlace>(),
            IsOutside = isOutside ?? (static _ => false),
        };
        if (sheet.Rows.Count == 0)
            return result;
        List<RowGroup> groups = RowGroup.Of(sheet);
        ChangedRows.Check(sheet, groups);
        CutRows.Check(sheet, groups);
        LeftOutRows.Check(sheet, elsewhere ?? new HashSet<PrintedPlace>());
        SwallowedCode.Check(sheet);
        JoinedRows.Check(sheet);
        PossibleRests.Check(sheet);
        PageColumns.Check(sheet);
        MisreadSigns.Check(sheet);
        RowOrder.Check(sheet);
        AlternateRows.Check(sheet);
        MarginWords.Check(sheet);
        QuotedNames.Check(sheet);
        return sheet.ToResult();
    }
}
