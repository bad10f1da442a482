using AsmLsp.Core.Fixes;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Recovery.Document;

/// <summary>A place at which something of the listing is missing, is there twice, or stands in another order.</summary>
/// <param name="Code">Its code of <see cref="DocumentCodes"/>.</param>
/// <param name="Before">The last line in front of the place.</param>
/// <param name="Behind">The first line behind it, on which the doubt is to stand.</param>
/// <param name="Words">The doubt in few words.</param>
/// <param name="Message">What is wrong, where, and what to do.</param>
internal sealed record MissingPiece(string Code, ListingLine Before, ListingLine Behind, string Words, string Message);

/// <summary>Puts what is missing into the report, and its doubts into the source.</summary>
internal static class MissingPieces
{
    /// <summary>How far down a line without a doubt is looked for.</summary>
    private const int MostLines = 20;

    /// <summary>Adds the pieces to the report and their doubts to the lines behind.</summary>
    public static RecoveryResult Mark(RecoveryResult result, IReadOnlyList<MissingPiece> pieces)
    {
        if (pieces.Count == 0)
            return result;
        Dictionary<PrintedPlace, int> lineOf = LinesByPlace(result);
        var doubts = new SortedDictionary<int, Doubt>();
        var entries = new List<RecoveryEntry>();
        foreach (MissingPiece piece in pieces)
        {
            int line = piece.Behind.Origin is { IsNone: false } origin ? lineOf.GetValueOrDefault(origin.Places[0]) : 0;
            int marked = Free(result, doubts, line);
            entries.Add(
                new RecoveryEntry(
                    marked,
                    0,
                    result.Source[marked].Text.Length,
                    Severity.Warning,
                    piece.Code,
                    piece.Message,
                    piece.Behind.Page > 0 ? piece.Behind.Page : null
                )
            );
            doubts.TryAdd(marked, new Doubt(piece.Words) { Place = result.Origins[marked].ToString() });
        }

        return DoubtMarks.Add(result, doubts, entries);
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

    // A line carries one doubt: where it has one of its own, the next line says what is missing above.
    private static int Free(RecoveryResult result, SortedDictionary<int, Doubt> doubts, int line)
    {
        for (int i = line; i < Math.Min(result.Origins.Length, line + MostLines); i++)
            if (
                result.Source[i].Text.Any(char.IsLetterOrDigit)
                && DoubtMarker.Find(result.Source[i].Text) is null
                && !doubts.ContainsKey(i)
            )
                return i;
        return line;
    }
}
