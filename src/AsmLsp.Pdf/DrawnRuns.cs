namespace AsmLsp.Pdf;

/// <summary>
/// The pieces of text that a file draws in one go: characters one after the other on one baseline without a gap. A text that is too long for its
/// column runs over the white beside it, and into the text of the next column; what was drawn together still says which character is whose.
/// </summary>
internal static class DrawnRuns
{
    // Baselines nearer than this part of the height are one.
    private const double SameLine = 0.2;

    // The next character of a run starts at most this part of the height before the end of the last one, or after it.
    private const double MostBack = 0.3;
    private const double MostGap = 0.8;

    // Texts that share less room than this part of the height only touch.
    private const double Touching = 1.5;

    // The same character twice within this part of its height is printed twice to look bold.
    private const double SamePlace = 0.12;

    /// <summary>Numbers the runs of the characters of a page.</summary>
    /// <param name="glyphs">The characters in the order in which they are drawn.</param>
    public static List<Glyph> Number(List<Glyph> glyphs)
    {
        var numbered = new List<Glyph>(glyphs.Count);
        int run = -1;
        Glyph last = default;
        foreach (Glyph glyph in glyphs)
        {
            if (run < 0 || !GoesOn(last, glyph))
                run++;
            numbered.Add(glyph with { Run = run });
            last = glyph;
        }

        return numbered;
    }

    /// <summary>The pairs of runs of a row that lie over each other and are not the same text.</summary>
    /// <param name="row">Characters of one baseline by their place, from left to right.</param>
    public static HashSet<(int, int)> Overprinted(List<Glyph> row)
    {
        var pairs = new HashSet<(int, int)>();
        var spans = new Dictionary<int, (double X, double EndX)>();
        foreach (Glyph glyph in row)
            if (!glyph.IsBlank)
                spans[glyph.Run] = spans.TryGetValue(glyph.Run, out (double X, double EndX) span)
                    ? (Math.Min(span.X, glyph.X), Math.Max(span.EndX, glyph.EndX))
                    : (glyph.X, glyph.EndX);
        if (spans.Count is < 2 or > 40)
            return pairs;
        double room = Touching * row[0].Size;
        foreach ((int a, (double X, double EndX) first) in spans)
        foreach ((int b, (double X, double EndX) second) in spans)
        {
            (double from, double to) = (Math.Max(first.X, second.X), Math.Min(first.EndX, second.EndX));
            if (a >= b || to - from < room || AreAlike(row, a, b, from, to))
                continue;
            pairs.Add((a, b));
            pairs.Add((b, a));
        }

        return pairs;
    }

    /// <summary>The texts of a row that lie over each other, as rows of their own in the order of drawing; the row alone where none do.</summary>
    public static IEnumerable<GlyphRow> Apart(GlyphRow row)
    {
        HashSet<(int, int)> over = Overprinted(row.Glyphs);
        if (over.Count == 0)
            return [row];
        var texts = new List<HashSet<int>>();
        foreach (int run in row.Glyphs.Select(static g => g.Run).Distinct().Order())
        {
            HashSet<int>? text = texts.Find(t => !t.Any(r => over.Contains((r, run))));
            if (text is null)
                texts.Add(text = []);
            text.Add(run);
        }

        var rows = new List<GlyphRow>();
        foreach (HashSet<int> text in texts)
            if (row.Where(g => text.Contains(g.Run)) is { } part)
            {
                part.IsOverprinted = true;
                rows.Add(part);
            }

        return rows;
    }

    private static bool GoesOn(in Glyph last, in Glyph glyph)
    {
        double gap = glyph.X - last.EndX,
            size = Math.Max(1, last.Size);
        return glyph.Order == last.Order + 1
            && Math.Abs(glyph.Y - last.Y) < SameLine * size
            && gap > -MostBack * size
            && gap < MostGap * size;
    }

    // Whether most characters of the stretch are there twice.
    private static bool AreAlike(List<Glyph> row, int a, int b, double from, double to)
    {
        int twice = 0,
            all = 0;
        for (int i = 0; i < row.Count; i++)
        {
            Glyph glyph = row[i];
            if (glyph.Run != a || glyph.IsBlank || glyph.EndX <= from || glyph.X >= to)
                continue;
            all++;
            for (int k = i - 1; k >= 0 && glyph.X - row[k].X < SamePlace * glyph.Size; k--)
                if (row[k].Run == b && row[k].Text == glyph.Text)
                    goto Twice;
            for (int k = i + 1; k < row.Count && row[k].X - glyph.X < SamePlace * glyph.Size; k++)
                if (row[k].Run == b && row[k].Text == glyph.Text)
                    goto Twice;
            continue;
            Twice:
            twice++;
        }

        return twice * 2 > all;
    }
}
