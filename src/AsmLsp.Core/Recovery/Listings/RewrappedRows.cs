using AsmLsp.Core.Recovery.Listings.Rows;

namespace AsmLsp.Core.Recovery.Listings;

/// <summary>
/// A text that its author's editor had wrapped at one width, and that the paper wrapped once more at a narrower one. What the page broke is put together
/// first: only the rows as they were before show at which width they were wrapped.
/// </summary>
internal static class RewrappedRows
{
    // So many rests of either kind show that there are two widths.
    private const int Least = 3;

    /// <summary>The lines with those rests joined that the page broke off, and the places of those they were joined to; null where there is one width at most.</summary>
    /// <param name="lines">The lines.</param>
    /// <param name="rows">The same as rows.</param>
    /// <param name="isRest">Whether a row is a rest without any doubt.</param>
    /// <param name="mayBeRest">Whether a row may be the rest of the one above.</param>
    /// <param name="joined">The places of lines that were joined before.</param>
    /// <param name="join">Puts a rest at the end of a text.</param>
    public static (List<ListingLine> Lines, List<int> Joined)? Join(
        List<ListingLine> lines,
        Row[] rows,
        Predicate<int> isRest,
        Predicate<int> mayBeRest,
        List<int> joined,
        Func<string, string, string> join
    )
    {
        int broken = 0,
            others = 0;
        bool[] breaks = new bool[lines.Count];
        for (int i = 1; i < lines.Count; i++)
        {
            breaks[i] = isRest(i) && !rows[i].IsSigns && IsBrokenByPage(rows[i - 1], rows[i]);
            if (breaks[i])
                broken++;
            else if (mayBeRest(i) && !rows[i].IsSigns)
                others++;
        }

        if (broken < Least || others < Least)
            return null;
        var whole = new HashSet<int>(joined);
        var result = new List<ListingLine>(lines.Count);
        var places = new List<int>();
        for (int i = 0; i < lines.Count; i++)
        {
            if (breaks[i])
            {
                ListingLine above = result[^1];
                result[^1] = above with
                {
                    Text = join(above.Text.TrimEnd(), lines[i].Text.Trim()),
                    Rests = above.Rests.With(lines[i].Origin),
                    LastPiece = lines[i].Printed,
                    Length = (int)Row.LengthOf(above) + 1 + lines[i].Text.Trim().Length,
                };
            }
            else
                result.Add(lines[i]);
            if ((breaks[i] || whole.Contains(i)) && (places.Count == 0 || places[^1] != result.Count - 1))
                places.Add(result.Count - 1);
        }

        return (result, places);
    }

    // The blank at which the document broke it, or no room for the next word.
    private static bool IsBrokenByPage(Row above, Row row)
    {
        if (above.Line.Printed is not { IsMonospaced: true } printed || (!above.Line.Rests.IsNone && above.Line.Length == 0))
            return false;
        if (printed.EndsInBlank)
            return true;
        int end = row.Code.AsSpan().IndexOfAny(' ', '\t');
        return printed.ColumnEnd > 0 && !printed.HasRoomFor(end < 0 ? row.Code : row.Code.AsSpan(0, end));
    }
}
