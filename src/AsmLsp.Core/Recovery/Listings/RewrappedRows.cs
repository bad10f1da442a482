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

    // Where so many of a hundred breaks agree with one width, there is one.
    private const int Agreeing = 85;

    // The page breaks at most so many times as many.
    private const int MostBroken = 6;

    /// <summary>The lines with those rests joined that the page broke off, and the places of those they were joined to; null where there is one width at most.</summary>
    /// <param name="lines">The lines.</param>
    /// <param name="rows">The same as rows.</param>
    /// <param name="isRest">Whether a row is a rest without any doubt.</param>
    /// <param name="joined">The places of lines that were joined before.</param>
    /// <param name="join">Puts a rest at the end of a text.</param>
    public static (List<ListingLine> Lines, List<int> Joined)? Join(
        List<ListingLine> lines,
        Row[] rows,
        Predicate<int> isRest,
        List<int> joined,
        Func<string, string, string> join
    )
    {
        int broken = 0,
            others = 0;
        bool[] breaks = new bool[lines.Count];
        // A document that draws the blank at which it broke a row says itself which breaks are its own.
        bool drawsBlanks =
            rows.Where((r, i) => r.EndsInBlank && i + 1 < rows.Length && isRest(i + 1)).Take(Least).Count() == Least;
        for (int i = 1; i < lines.Count; i++)
        {
            if (!isRest(i) || rows[i].IsSigns || !IsKnown(rows[i - 1]))
                continue;
            breaks[i] = rows[i - 1].EndsInBlank || HadNoRoom(rows[i - 1], rows[i]);
            if (breaks[i])
                broken++;
            else
                others++;
        }

        if (broken < Least || others < Least)
            return null;
        if (!drawsBlanks && (others * MostBroken < broken || IsOneWidth(rows, isRest)))
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

    // Nearly all breaks agree with one width: no row above one is longer, and the next word would have made each longer.
    private static bool IsOneWidth(Row[] rows, Predicate<int> isRest)
    {
        int all = 0,
            agreeing = 0;
        foreach (
            IGrouping<int, int> column in Enumerable
                .Range(1, Math.Max(0, rows.Length - 1))
                .Where(i => isRest(i) && !rows[i].IsSigns && rows[i - 1].IsMeasured)
                .GroupBy(i => rows[i].TextColumn)
        )
        {
            double[] from = [.. column.Select(i => rows[i - 1].Extent).Order()],
                to = [.. column.Select(i => rows[i - 1].Extent + rows[i].Blank + rows[i].FirstWordExtent).Order()];
            all += from.Length;
            int most = 0;
            for (int i = 0, ended = 0; i < from.Length; i++)
            {
                while (to[ended] <= from[i])
                    ended++;
                most = Math.Max(most, i + 1 - ended);
            }

            agreeing += most;
        }

        return agreeing * 100 >= all * Agreeing;
    }

    // It is set in type of one width, and nothing is joined to it, or what the page broke off.
    private static bool IsKnown(Row above) =>
        above.Line.Printed is { IsMonospaced: true } && (above.Line.Rests.IsNone || above.Line.Length > 0);

    // Where the page had room for more, the author's editor has broken it.
    private static bool HadNoRoom(Row above, Row row) =>
        above.Line.Printed is { ColumnEnd: > 0 } printed && !printed.HasRoomFor(FirstWord(row));

    private static ReadOnlySpan<char> FirstWord(Row row)
    {
        int end = row.Code.AsSpan().IndexOfAny(' ', '\t');
        return end < 0 ? row.Code : row.Code.AsSpan(0, end);
    }
}
