namespace AsmLsp.Pdf;

/// <summary>
/// Finds the step of the columns where letters are further apart than they are wide. Some programs that typeset listings put each word
/// into as many cells as it has letters, and spread its letters there evenly: then the distance of neighbors is less than
/// a cell, in a short word more so than in a long one, and only the page as a whole says the cell.
/// </summary>
internal static class StretchedGrid
{
    // Steps that differ by less than this part of a character are one step: coordinates are rounded in files.
    private const double Rounding = 0.004;

    // Cells nearer to the width of the letters are such; wider ones than this were not seen.
    private const double Least = 1.02,
        Most = 1.6;

    // Characters of a page that are looked at, and cells across it that a candidate may be wrong by a tenth.
    private const int Sample = 500;

    // Letters that are at the same place in their cells give 1; spread ones, up to 0.15 of a cell off, still this.
    private const double Enough = 0.9;

    /// <summary>Puts the step into the rows of a page that are set so.</summary>
    public static void Refine(List<MeasuredRow> rows, int from)
    {
        var byWidth = new Dictionary<int, List<int>>();
        for (int i = from; i < rows.Count; i++)
        {
            if (!rows[i].IsMonospaced)
                continue;
            int width = (int)Math.Round(Width(rows[i]) * 20);
            if (!byWidth.TryGetValue(width, out List<int>? same))
                byWidth.Add(width, same = []);
            same.Add(i);
        }

        foreach (List<int> same in byWidth.Values)
        {
            double width = Width(rows[same[0]]);
            double[] pitches = [.. same.Select(i => rows[i].Pitch).Order()];
            // In one step everywhere, there is nothing to find.
            if (pitches[pitches.Length / 2] < Least * width || pitches[^1] - pitches[0] < Rounding * width)
                continue;
            double[] middles = Middles(rows, same);
            if (Best(middles, width) is not { } step)
                continue;
            foreach (int i in same)
                rows[i] = rows[i] with { Measure = rows[i].Measure with { Pitch = step } };
        }
    }

    private static double Width(MeasuredRow row)
    {
        foreach (Glyph glyph in row.Row.Glyphs)
            if (!glyph.IsBlank && glyph.X >= row.Measure.Start - 0.01)
                return glyph.Width;
        return row.Pitch;
    }

    private static double[] Middles(List<MeasuredRow> rows, List<int> same)
    {
        var middles = new List<double>();
        foreach (int i in same)
        foreach (Glyph glyph in rows[i].Row.Glyphs)
            if (!glyph.IsBlank && glyph.X >= rows[i].Measure.Start - 0.01)
                middles.Add((glyph.X + glyph.EndX) / 2);
        int step = Math.Max(1, middles.Count / Sample);
        return [.. middles.Where((_, i) => i % step == 0)];
    }

    // Turned round a circle of the step's length, the middles meet at one point if it is the right step.
    private static double? Best(double[] middles, double width)
    {
        double across = middles.Max() - middles.Min();
        if (across < 10 * width)
            return null;
        double fine = 0.1 * width * width / across;
        double best = 0,
            most = 0;
        for (double step = Least * width; step <= Most * width; step += fine)
        {
            double x = 0,
                y = 0;
            foreach (double middle in middles)
            {
                (double sin, double cos) = Math.SinCos(2 * Math.PI * middle / step);
                (x, y) = (x + cos, y + sin);
            }

            double together = Math.Sqrt(x * x + y * y) / middles.Length;
            if (together > most)
                (most, best) = (together, step);
        }

        return most >= Enough ? best : null;
    }
}
