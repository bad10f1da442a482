namespace AsmLsp.Pdf;

/// <summary>
/// Where the characters of a fixed-width font fall within the pitch of that font. All characters of one block of text
/// fall at one place; a second block, set by itself, starts its own grid.
/// </summary>
/// <param name="Phase">The place, as a part of the pitch from 0 to 1.</param>
/// <param name="Concentration">1 where every character is at that place, 0 where they are anywhere.</param>
/// <param name="Count">How many characters were measured.</param>
internal readonly record struct CharacterGrid(double Phase, double Concentration, int Count)
{
    // Characters of one font differ from its step by less than this part.
    private const double SameWidth = 0.1;

    // Fewer characters meet at one place by chance.
    private const int LeastCharacters = 8;

    // Text that was moved by tab stops or cells of a table has several places, and proves nothing.
    private const double LeastConcentration = 0.9;

    // Fewer rows prove nothing by themselves.
    private const int LeastPairs = 5;

    // Measured on two-column print: sides out of step differ by 0.15 and more, one listing by 0.01 at most.
    private const double OutOfStep = 0.12;
    private const double InStep = 0.015;

    /// <summary>Whether the characters share one grid.</summary>
    public bool IsKnown => Count >= LeastCharacters && Concentration >= LeastConcentration;

    /// <summary>Measures the characters of some rows.</summary>
    /// <param name="rows">The rows.</param>
    /// <param name="pitch">The pitch of the font, in points.</param>
    /// <param name="widths">The fonts of the document.</param>
    public static CharacterGrid Of(List<GlyphRow> rows, double pitch, FontWidths widths)
    {
        double x = 0,
            y = 0;
        int count = 0;
        foreach (GlyphRow row in rows)
        foreach (Glyph glyph in row.Glyphs)
        {
            if (glyph.IsBlank || Math.Abs(glyph.Width - pitch) > SameWidth * pitch || !widths.IsMonospaced(glyph.Font))
                continue;
            (double sin, double cos) = Math.SinCos(2 * Math.PI * glyph.X / pitch);
            (x, y, count) = (x + cos, y + sin, count + 1);
        }

        double phase = Math.Atan2(y, x) / (2 * Math.PI);
        return new CharacterGrid(
            phase < 0 ? phase + 1 : phase,
            count == 0 ? 0 : Math.Sqrt(x * x + y * y) / count,
            count
        );
    }

    /// <summary>Whether both grids are known and are not the same: the texts were set apart from each other.</summary>
    public bool IsOutOfStepWith(in CharacterGrid other) => IsKnown && other.IsKnown && DistanceTo(other) >= OutOfStep;

    /// <summary>Whether both grids are known and are the same.</summary>
    public bool IsInStepWith(in CharacterGrid other) => IsKnown && other.IsKnown && DistanceTo(other) <= InStep;

    /// <summary>Whether the texts of two sides were set apart, judged row by row: a line of one text keeps its own grid, however far it is indented.</summary>
    /// <param name="pairs">The grids of the left and of the right part of each row that has both.</param>
    /// <param name="inStep">Whether the rows prove one text.</param>
    public static bool AreOutOfStep(List<(CharacterGrid Left, CharacterGrid Right)> pairs, out bool inStep)
    {
        int apart = 0,
            together = 0,
            all = 0;
        foreach ((CharacterGrid left, CharacterGrid right) in pairs)
        {
            if (left.Concentration < LeastConcentration || right.Concentration < LeastConcentration)
                continue;
            all++;
            double distance = left.DistanceTo(right);
            if (distance >= OutOfStep)
                apart++;
            else if (distance <= InStep)
                together++;
        }

        inStep = all >= LeastPairs && together * 10 >= all * 9;
        return all >= LeastPairs && apart * 10 >= all * 8;
    }

    private double DistanceTo(in CharacterGrid other)
    {
        double distance = Math.Abs(Phase - other.Phase);
        return Math.Min(distance, 1 - distance);
    }
}
