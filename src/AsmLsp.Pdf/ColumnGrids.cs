namespace AsmLsp.Pdf;

/// <summary>What the character grids on both sides of a band say.</summary>
/// <param name="AreOutOfStep">The texts were set apart from each other.</param>
/// <param name="AreInStep">Both sides are on one grid, as one text is.</param>
internal readonly record struct ColumnGrids(bool AreOutOfStep, bool AreInStep)
{
    // The next character of a row starts between these parts of a width from the last one.
    private const double LeastNext = 0.5;

    // As above; half a width more than one column.
    private const double MostNext = 1.5;

    /// <summary>Measures the rows of a band.</summary>
    public static ColumnGrids Of(List<GlyphRow> rows, in ColumnBand band, FontWidths widths)
    {
        (List<GlyphRow> left, List<GlyphRow> right) = band.Sides(rows);
        double pitch = PitchOf(left, right, widths);
        if (pitch <= 0)
            return default;
        var pairs = new List<(CharacterGrid, CharacterGrid)>();
        for (int i = band.First; i <= band.Last; i++)
            if (band.LeftOf(rows[i]) is { } l && band.RightOf(rows[i]) is { } r)
                pairs.Add((CharacterGrid.Of([l], pitch, widths), CharacterGrid.Of([r], pitch, widths)));
        bool rowsApart = CharacterGrid.AreOutOfStep(pairs, out bool rowsTogether);
        CharacterGrid a = CharacterGrid.Of(left, pitch, widths),
            b = CharacterGrid.Of(right, pitch, widths);
        bool apart = rowsApart || (!rowsTogether && a.IsOutOfStepWith(b));
        return new ColumnGrids(apart, !apart && (rowsTogether || a.IsInStepWith(b)));
    }

    // The step from one character to the next that is the most frequent one in words of fixed width.
    private static double PitchOf(List<GlyphRow> left, List<GlyphRow> right, FontWidths widths)
    {
        var counts = new Dictionary<int, (int Count, double Sum)>();
        foreach (List<GlyphRow> side in (ReadOnlySpan<List<GlyphRow>>)[left, right])
        foreach (GlyphRow row in side)
        {
            for (int i = 0; i + 1 < row.Glyphs.Count; i++)
            {
                Glyph glyph = row.Glyphs[i];
                if (glyph.IsBlank || row.Glyphs[i + 1].IsBlank || !widths.IsMonospaced(glyph.Font))
                    continue;
                double step = row.Glyphs[i + 1].X - glyph.X;
                if (step < LeastNext * glyph.Width || step > MostNext * glyph.Width)
                    continue;
                int key = (int)Math.Round(step * 20);
                (int count, double sum) = counts.GetValueOrDefault(key);
                counts[key] = (count + 1, sum + step);
            }
        }

        return counts.Count == 0 ? 0
            : counts.Values.MaxBy(static c => c.Count) is var (n, total) ? total / n
            : 0;
    }
}
