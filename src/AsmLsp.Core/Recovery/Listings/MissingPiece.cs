using AsmLsp.Core.Doubts;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Recovery.Listings;

/// <summary>A place at which something of the listing is missing, is there twice, or is in another order.</summary>
/// <param name="Code">Its code of <see cref="DocumentCodes"/>.</param>
/// <param name="Before">The last line in front of the place.</param>
/// <param name="After">The first line after it, on which the doubt is to be.</param>
/// <param name="Words">The doubt in few words.</param>
/// <param name="Message">What is wrong, where, and what to do.</param>
internal sealed record MissingPiece(string Code, ListingLine Before, ListingLine After, string Words, string Message);

/// <summary>Puts what is missing into the report, and its doubts into the source.</summary>
internal static class MissingPieces
{
    /// <summary>Adds the pieces to the report and their doubts to the lines after.</summary>
    public static RecoveryResult Mark(RecoveryResult result, IReadOnlyList<MissingPiece> pieces)
    {
        if (pieces.Count == 0)
            return result;
        Dictionary<PrintedPlace, int> lineOf = LinesByPlace(result);
        var doubts = new List<KeyValuePair<int, Doubt>>();
        var entries = new List<RecoveryEntry>();
        foreach (MissingPiece piece in pieces)
        {
            int line = RecoveredDoubts.LineFor(
                result,
                piece.After.Origin is { IsNone: false } origin ? lineOf.GetValueOrDefault(origin.Places[0]) : 0
            );
            entries.Add(
                new RecoveryEntry(
                    line,
                    0,
                    result.Source[line].Text.Length,
                    Severity.Warning,
                    piece.Code,
                    piece.Message,
                    piece.After.Page > 0 ? piece.After.Page : null
                )
            );
            doubts.Add(
                new(
                    line,
                    new Doubt(piece.Words)
                    {
                        Kind = DoubtKind.Missing,
                        Origin = RecoveredDoubts.OriginOf(result, line),
                        Evidence = piece.Code,
                    }
                )
            );
        }

        return RecoveredDoubts.Add(result, doubts, entries);
    }

    /// <summary>The line of the source that each printed line came to.</summary>
    public static Dictionary<PrintedPlace, int> LinesByPlace(RecoveryResult result)
    {
        var lineOf = new Dictionary<PrintedPlace, int>();
        for (int i = 0; i < result.Origins.Length; i++)
            foreach (PrintedPlace place in result.Origins[i].Places)
                lineOf.TryAdd(place, i);
        return lineOf;
    }
}
