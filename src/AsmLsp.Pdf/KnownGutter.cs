namespace AsmLsp.Pdf;

/// <summary>A gutter that was proven on some page: its white, and the places where the texts on its right begin.</summary>
/// <param name="left">Where the white begins, in points.</param>
/// <param name="right">Where it ends.</param>
/// <param name="isInStep">Whether the characters on both sides of it are on one grid.</param>
internal sealed class KnownGutter(double left, double right, bool isInStep)
{
    // Starts of rows nearer than this are the same place.
    private const double SameStart = 1;

    // On a page whose right column has no label, it seems to begin so far to the right at most.
    private const double MostOutdent = 60;

    private readonly Dictionary<int, int> starts = [];

    /// <summary>Whether the characters on both sides are on one grid, so that this says nothing against it.</summary>
    public bool IsInStep => isInStep;

    /// <summary>Where the white begins, in points.</summary>
    public double Left { get; private set; } = left;

    /// <summary>Where the text column on its right begins, in points.</summary>
    public double Right { get; private set; } = right;

    /// <summary>The strip in which the gutter of another page has to be.</summary>
    public (double Left, double Right) Strip => (Left, Right + SameStart);

    /// <summary>Learns from a page that has it.</summary>
    public void Add(ColumnBand band, List<GlyphRow> rows)
    {
        if (band.Right < Right)
            (Left, Right) = (band.Left, band.Right);
        for (int i = band.First; i <= band.Last; i++)
        {
            if (band.RightOf(rows[i]) is not { } part)
                continue;
            int start = (int)Math.Round(part.X / SameStart);
            starts[start] = starts.GetValueOrDefault(start) + 1;
        }
    }

    /// <summary>Whether the right column of another page may begin at a place: at its edge, where several lines do, or by a label further left.</summary>
    public bool HasStart(double x)
    {
        if (x > Right - MostOutdent && x < Right + 3 * SameStart && x > Left)
            return true;
        int start = (int)Math.Round(x / SameStart);
        return starts.GetValueOrDefault(start - 1)
                + starts.GetValueOrDefault(start)
                + starts.GetValueOrDefault(start + 1)
            > 1;
    }
}
