namespace AsmLsp.Pdf;

/// <summary>
/// What the order of drawing says about two sides of a band. A file draws one text row by row; of two columns it draws the left one down to its
/// end before the right one begins.
/// </summary>
internal static class DrawingOrder
{
    // Rows on the right that were drawn after rows of the left side further down.
    private const int Least = 3;

    /// <summary>Whether the left side was drawn to its end, with rows below those of the right side, before the right one was begun.</summary>
    /// <param name="rows">The rows of the page.</param>
    /// <param name="band">The band.</param>
    public static bool AreApart(List<GlyphRow> rows, in ColumnBand band) => Witnesses(rows, band) >= Least;

    /// <summary>Whether nothing in the order speaks against that.</summary>
    public static bool MayBeApart(List<GlyphRow> rows, in ColumnBand band) => Witnesses(rows, band) >= 0;

    /// <summary>
    /// The last row of the columns: what is below the right column, on the left, and was drawn after it is text that continues below both. The left column
    /// itself would have been drawn before the right one.
    /// </summary>
    /// <param name="rows">The rows of the page.</param>
    /// <param name="first">The first row that leaves the white.</param>
    /// <param name="last">The last row that leaves it.</param>
    /// <param name="left">The left edge of the white.</param>
    /// <param name="right">Its right edge.</param>
    public static int BeforeNextText(List<GlyphRow> rows, int first, int last, double left, double right)
    {
        int lastRow = last;
        while (lastRow > first && rows[lastRow].EndX <= left)
            lastRow--;
        int lastLeft = -1,
            firstRight = int.MaxValue,
            lastRight = -1,
            beside = 0;
        for (int i = first; i <= lastRow && lastRow < last; i++)
        {
            if (rows[i].HasGuess)
                return last;
            foreach (Glyph glyph in rows[i].Glyphs)
            {
                if (glyph.IsBlank)
                    continue;
                if (glyph.X < right - 0.01)
                    lastLeft = Math.Max(lastLeft, glyph.Order);
                else
                    (firstRight, lastRight) = (Math.Min(firstRight, glyph.Order), Math.Max(lastRight, glyph.Order));
            }

            beside += rows[i].EndX > right ? 1 : 0;
        }

        if (beside < Least || lastLeft < 0 || lastLeft > firstRight)
            return last;
        int next = last;
        while (next > lastRow && !rows[next].HasGuess && rows[next].FirstDrawn > lastRight)
            next--;
        return next;
    }

    // How many rows on the right were drawn after rows of the left side further down; -1 where the right side was begun before the left one ended.
    private static int Witnesses(List<GlyphRow> rows, in ColumnBand band)
    {
        int lastLeft = -1,
            firstRight = int.MaxValue,
            lowestLeft = -1;
        for (int i = band.First; i <= band.Last; i++)
        {
            // The order of a machine's reading is that of the pieces that it saw.
            if (rows[i].HasGuess)
                return -1;
            if (band.LeftOf(rows[i]) is { } left)
            {
                lastLeft = Math.Max(lastLeft, left.LastDrawn);
                lowestLeft = i;
            }

            if (band.RightOf(rows[i]) is { } right)
                firstRight = Math.Min(firstRight, right.FirstDrawn);
            if (lastLeft >= firstRight)
                return -1;
        }

        int witnesses = 0;
        for (int i = band.First; i < lowestLeft; i++)
            if (band.RightOf(rows[i]) is not null)
                witnesses++;
        return witnesses;
    }
}
