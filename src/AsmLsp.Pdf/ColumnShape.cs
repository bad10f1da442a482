namespace AsmLsp.Pdf;

/// <summary>How the lines of a side are set.</summary>
/// <param name="Width">The width of the side.</param>
/// <param name="UsualLine">The usual length of a line.</param>
/// <param name="Filled">The part of its lines that reach near the right edge.</param>
/// <param name="Indented">The part of its lines that is indented.</param>
/// <param name="UsualIndent">How far, usually.</param>
internal readonly record struct ColumnShape(
    double Width,
    double UsualLine,
    double Filled,
    double Indented,
    double UsualIndent
)
{
    // Columns of prose have this part of their rows filled.
    private const double LeastFilled = 0.6;

    // Prose is set wider than the least width of a column by this factor.
    private const double WideProse = 1.2;

    // A row that ends after this part of the column fills it.
    private const double FullRow = 0.8;

    // A row that starts before this part of the column starts at its edge; half-empty rows are no column of text.
    private const double AtEdge = 0.3;

    // A column of text has a line at this part, or more, of the heights that it covers.
    private const double LeastDensity = 0.7;

    // Of two columns the narrower one has at least this part of the width.
    private const double LeastRatio = 0.5;

    // The reverse of the least ratio.
    private const double MostRatio = 2;

    // Code has between these parts of its rows indented.
    private const double LeastIndented = 0.15;

    // As above.
    private const double MostIndented = 0.95;

    // Two columns of code are nearly equally wide.
    private const double LeastCodeRatio = 0.6;

    // The reverse of the least ratio of code.
    private const double MostCodeRatio = 1.67;

    private const double LeastWidth = 80;

    /// <summary>Measures a side.</summary>
    public static ColumnShape Of(List<GlyphRow> rows)
    {
        double x = rows.Min(r => r.X),
            end = rows.Max(r => r.EndX),
            width = end - x;
        double[] lengths = [.. rows.Select(r => r.EndX - r.X).Order()];
        double[] indents = [.. rows.Select(r => r.X - x).Where(i => i > 4).Order()];
        int filled = rows.Count(r => r.EndX - x >= FullRow * width && r.X - x < AtEdge * width);
        return new ColumnShape(
            width,
            lengths[lengths.Length / 2],
            filled / (double)rows.Count,
            indents.Length / (double)rows.Count,
            indents.Length > 0 ? indents[indents.Length / 2] : 0
        );
    }

    /// <summary>Whether two sides look like two columns of text by the lengths and starts of their lines alone.</summary>
    /// <param name="left">The left side.</param>
    /// <param name="right">The right side.</param>
    /// <param name="areAlternating">Whether few rows have text on both sides.</param>
    public static bool AreColumns(List<GlyphRow> left, List<GlyphRow> right, bool areAlternating)
    {
        ColumnShape a = Of(left),
            b = Of(right);
        if (
            a.Width < LeastWidth
            || b.Width < LeastWidth
            || a.UsualLine < AtEdge * a.Width
            || b.UsualLine < AtEdge * b.Width
        )
            return false;
        if (areAlternating)
            return a.UsualLine >= LeastWidth / 2 && b.UsualLine >= LeastWidth / 2;

        // Labels are beside few of the lines; a column of text has a line at each height that it covers.
        if (Density(left, right) < LeastDensity || Density(right, left) < LeastDensity)
            return false;
        double ratio = a.Width / b.Width;
        if (ratio is < LeastRatio or > MostRatio)
            return false;
        // Prose fills its lines; cells of a table and words of a listing do not.
        if (a.Filled >= LeastFilled && b.Filled >= LeastFilled)
            return a.UsualLine >= WideProse * LeastWidth;
        // A listing in two columns starts some lines at the label and more at the operation, on both sides alike.
        return a.Indented is >= LeastIndented and <= MostIndented
            && b.Indented is >= LeastIndented and <= MostIndented
            && ratio is > LeastCodeRatio and < MostCodeRatio
            && Math.Abs(a.UsualIndent - b.UsualIndent) < 4;
    }

    // How many of the other side's rows have one of this side at their height, from this side's first row to its last.
    private static double Density(List<GlyphRow> rows, List<GlyphRow> others)
    {
        int covered = others.Count(o => o.Y >= rows[0].Y - 1 && o.Y <= rows[^1].Y + 1);
        return covered == 0 ? 1 : rows.Count / (double)covered;
    }
}
