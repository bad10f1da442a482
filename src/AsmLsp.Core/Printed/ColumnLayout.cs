using System.Collections.Immutable;

namespace AsmLsp.Core.Printed;

/// <summary>Where the text columns of a page lie, once it is put straight. Lengths in points.</summary>
/// <param name="Gaps">The middles of the white between them, from left to right.</param>
/// <param name="Over">The heights, from and to, of what runs over several columns; it belongs to the first.</param>
/// <param name="Slope">How far the lines fall per point to the right.</param>
public sealed record ColumnLayout(
    ImmutableArray<double> Gaps,
    ImmutableArray<(double Top, double Bottom)> Over,
    double Slope
)
{
    /// <summary>The column, from 0, that a place of the page as it was scanned belongs to.</summary>
    public int ColumnOf(double x, double y)
    {
        (double straightX, double straightY) = (x + Slope * y, y - Slope * x);
        foreach ((double top, double bottom) in Over)
            if (straightY >= top && straightY <= bottom)
                return 0;
        int column = 0;
        foreach (double gap in Gaps)
            if (straightX >= gap)
                column++;
        return column;
    }
}
