namespace AsmLsp.Host.Scans;

/// <summary>
/// Takes the ruled lines of tables and frames out of the picture of a page: a text recognition reads them as letters, and loses the words
/// beside them.
/// </summary>
internal static class RuledLines
{
    // In inches: no stroke of a letter is so long, and no rule so thick.
    private const double LeastAcross = 0.7,
        LeastDown = 0.4,
        MostThick = 0.035;

    /// <summary>The picture without them; the same one where it has none.</summary>
    /// <param name="picture">The page.</param>
    /// <param name="threshold">The darkest gray of paper.</param>
    /// <param name="dotsPerInch">How finely it is drawn.</param>
    public static GrayPicture Without(GrayPicture picture, int threshold, int dotsPerInch)
    {
        byte[]? dots = null;
        int thick = Math.Max(2, (int)(MostThick * dotsPerInch));
        Clear(
            picture,
            threshold,
            ref dots,
            picture.Height,
            picture.Width,
            picture.Width,
            1,
            (int)(LeastAcross * dotsPerInch),
            thick
        );
        Clear(
            picture,
            threshold,
            ref dots,
            picture.Width,
            picture.Height,
            1,
            picture.Width,
            (int)(LeastDown * dotsPerInch),
            thick
        );
        return dots is null ? picture : new GrayPicture(picture.Width, picture.Height, dots);
    }

    // Runs along one direction; a dot's neighbors across are 'line' apart, along 'step'.
    private static void Clear(
        GrayPicture picture,
        int threshold,
        ref byte[]? dots,
        int lines,
        int length,
        int line,
        int step,
        int least,
        int thick
    )
    {
        byte[] from = picture.Dots;
        for (int i = 0; i < lines; i++)
        {
            int run = 0;
            for (int j = 0; j <= length; j++)
            {
                if (j < length && from[i * line + j * step] <= threshold)
                {
                    run++;
                    continue;
                }

                if (run >= least && IsThin(from, threshold, i, j - run, run, lines, line, step, thick))
                {
                    dots ??= (byte[])from.Clone();
                    // The rim of a line is gray.
                    for (int near = Math.Max(0, i - 1); near <= Math.Min(lines - 1, i + 1); near++)
                    for (int k = j - run; k < j; k++)
                        dots[near * line + k * step] = 255;
                }

                run = 0;
            }
        }
    }

    // Paper on both sides along most of it: a dark area is a picture, or the shadow of a book's fold.
    private static bool IsThin(
        byte[] from,
        int threshold,
        int at,
        int start,
        int run,
        int lines,
        int line,
        int step,
        int thick
    )
    {
        int thin = 0,
            seen = 0;
        for (int k = start; k < start + run; k += 8, seen++)
        {
            int dark = 1;
            for (int near = at - 1; near >= 0 && dark <= thick && from[near * line + k * step] <= threshold; near--)
                dark++;
            for (int near = at + 1; near < lines && dark <= thick && from[near * line + k * step] <= threshold; near++)
                dark++;
            if (dark <= thick)
                thin++;
        }

        return thin * 4 >= seen * 3;
    }
}
