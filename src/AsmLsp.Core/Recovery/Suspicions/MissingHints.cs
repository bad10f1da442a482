using System.Collections.Immutable;
using System.Globalization;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Evidence;
using AsmLsp.Core.Recovery.Results;

namespace AsmLsp.Core.Recovery.Suspicions;

/// <summary>
/// Adds to the problems that a lost line leaves after, such as a name that nothing defines, that a line of the document may be missing, and
/// where.
/// </summary>
internal static class MissingHints
{
    private const int MostPlaces = 3;

    /// <summary>Adds it to the problems that may come of a missing line, with the place where lines are known to be missing.</summary>
    /// <param name="result">The recovered source.</param>
    /// <param name="placed">The entries that are where the line was lost already.</param>
    public static RecoveryResult Add(RecoveryResult result, IReadOnlySet<RecoveryEntry>? placed = null)
    {
        if (result.Program.Image.Count == 0)
            return result;
        ImmutableArray<int> lines =
        [
            .. result
                .Entries.Where(static e => e.Code is DocumentCodes.MissingLines or DocumentCodes.MissingPage)
                .Select(static e => e.Line + 1)
                .Distinct()
                .Order()
                .Take(MostPlaces),
        ];
        string where = string.Join(" and ", lines.Select(static l => l.ToString(CultureInfo.InvariantCulture)));
        string hint = lines.IsEmpty
            ? " A line that was not printed, or was lost on the way, may be the reason: compare with the document."
            : $" The line that it wants is most likely one of those that are missing at line {where}.";
        return result with
        {
            Entries =
            [
                .. result.Entries.Select(e =>
                    IsOfMissingLine(e) && placed?.Contains(e) != true ? e with { Message = e.Message + hint } : e
                ),
            ],
        };
    }

    private static bool IsOfMissingLine(RecoveryEntry entry) =>
        entry.Severity == Severity.Error
        && (
            entry.Code == Catalogue.UndefinedName.Code
            || entry.Code == Catalogue.UnknownOperation.Code
            || entry.Code == Catalogue.BlockNotClosed.Code
            || entry.Code == Catalogue.BlockNotOpened.Code
        );
}
