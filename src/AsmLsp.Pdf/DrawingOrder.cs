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
