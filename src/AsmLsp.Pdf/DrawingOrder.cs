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
    /// The rows of two columns among rows that all leave one white: text above that was drawn before both, and text below that was drawn after both, runs
    /// across the page and leaves the white by chance. All rows where the order does not show two columns.
    /// </summary>
    /// <param name="rows">The rows of the page.</param>
    /// <param name="first">The first row that leaves the white.</param>
    /// <param name="last">The last row that leaves it.</param>
    /// <param name="right">The right edge of the white.</param>
    public static (int First, int Last) ColumnsAmong(List<GlyphRow> rows, int first, int last, double right)
    {
        var drawnBefore = new int[last - first + 2];
        drawnBefore[0] = -1;
        for (int i = first; i <= last; i++)
        {
            if (rows[i].HasGuess)
                return (first, last);
            drawnBefore[i - first + 1] = Math.Max(drawnBefore[i - first], rows[i].LastDrawn);
        }

        (int First, int Last) most = (first, first - 1);
        int drawnAfter = int.MaxValue,
            end = last;
        for (int i = last; i >= first; i--)
        {
            drawnAfter = Math.Min(drawnAfter, rows[i].FirstDrawn);
            if (drawnAfter <= drawnBefore[i - first])
                continue;
            // Nothing of the rows from here on was drawn before anything above them.
            if (end - i > most.Last - most.First && AreApart(rows, new ColumnBand(i, end, right, right, 0)))
                most = (i, end);
            end = i - 1;
        }

        if (most.Last < most.First)
            return (first, last);
        // Above the right column the left one may have begun, and below the left one the right one continues.
        while (most.First > first && rows[most.First - 1].EndX < right)
            most.First--;
        while (most.Last < last && rows[most.Last + 1].X >= right - 0.01)
            most.Last++;
        return most;
    }

    /// <summary>
    /// Whether most rows with text on both sides of the white were drawn as one text: the white is inside of a column, such as that between the <c>;</c> and
    /// an instruction that was switched off.
    /// </summary>
    /// <param name="rows">The rows of the page.</param>
    /// <param name="band">The band.</param>
    public static bool AreOneText(List<GlyphRow> rows, in ColumnBand band)
    {
        int both = 0,
            one = 0;
        for (int i = band.First; i <= band.Last; i++)
        {
            Glyph? last = null,
                next = null;
            foreach (Glyph glyph in rows[i].Glyphs)
            {
                if (glyph.IsBlank)
                    continue;
                if (glyph.X < band.Right - 0.01)
                    last = glyph;
                else
                    next ??= glyph;
            }

            if (last is not { } a || next is not { } b)
                continue;
            both++;
            if (a.Run == b.Run)
                one++;
        }

        return one * 2 > both;
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
