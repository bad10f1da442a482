using AsmLsp.Core.Printed;

namespace AsmLsp.Core.Recovery.Listings;

/// <summary>One row of a listing as it was found.</summary>
/// <param name="Line">The printed line.</param>
/// <param name="Text">Its text without the numbers in front.</param>
/// <param name="IsCode">Whether it is code beyond doubt.</param>
/// <param name="Above">How many rows of other text are printed between it and the row above.</param>
internal readonly record struct FoundRow(PrintedLine Line, string Text, bool IsCode, int Above);

/// <summary>
/// Distinguishes the examples of a text, such as a data sheet has them, from a program: a few rows here and there, far apart, that neither begin nor end as a
/// program does and use no names of each other.
/// </summary>
internal static class ScatteredExamples
{
    // So many rows of text part two examples.
    private const int Apart = 8;

    // A program that is explained piece by piece has fewer breaks, or more rows than text.
    private const int LeastBreaks = 3;
    private const int MostShare = 25;

    /// <summary>The rows as one listing, or each example as one.</summary>
    /// <param name="rows">The rows.</param>
    /// <param name="leastCode">As many rows of code has a listing at least.</param>
    public static IEnumerable<Listing> Part(List<FoundRow> rows, int leastCode)
    {
        if (rows.Count(static r => r.IsCode) < leastCode)
            return [];
        Listing whole = Make(rows);
        int text = rows.Skip(1).Sum(static r => r.Above);
        if (
            rows.Skip(1).Count(static r => r.Above >= Apart) < LeastBreaks
            || rows.Count * 100 > (rows.Count + text) * MostShare
            || whole.Names.HasHead
            || whole.Names.HasEnd
        )
            return [whole];
        var parts = new List<List<FoundRow>>();
        foreach (FoundRow row in rows)
        {
            if (parts.Count == 0 || row.Above >= Apart)
                parts.Add([]);
            parts[^1].Add(row);
        }

        Listing[] examples =
        [
            .. parts.Where(p => p.Count(static r => r.IsCode) >= leastCode).Select(static p => Make(p)),
        ];
        // Pieces of one program need each other.
        int needing = examples.Count(e => Array.Exists(examples, o => o != e && e.Lacking.Exists(o.Names.Defines)));
        return needing * 2 > examples.Length ? [whole] : examples;
    }

    private static Listing Make(List<FoundRow> rows) =>
        new(
            [.. rows.Select(static r => r.Line)],
            [.. rows.Select(static r => r.Text)],
            rows.Count(static r => r.IsCode)
        );
}
