using AsmLsp.Core.Printed;

namespace AsmLsp.Core.Recovery.Listings;

/// <summary>A line near the upper or lower edge of the text of its page.</summary>
/// <param name="Line">The line.</param>
/// <param name="IsTop">Whether it is counted from the top.</param>
/// <param name="Rank">How many rows are further out; 0 for the outermost row.</param>
internal readonly record struct PageEdge(PrintedLine Line, bool IsTop, int Rank)
{
    // How far the heights of a repeated line may differ, in points.
    private const double SameHeight = 4;

    // Lines nearer than this are one row.
    private const double SameRow = 2;

    /// <summary>The lines of a page that are among its first or its last rows.</summary>
    /// <param name="page">The page.</param>
    /// <param name="rows">How many rows.</param>
    public static List<PageEdge> Of(PrintedPage page, int rows)
    {
        var edges = new List<PageEdge>();
        PrintedLine[] byHeight = [.. page.Lines.OrderBy(static l => l.Y).ThenBy(static l => l.X)];
        for (int i = 0, rank = 0; i < byHeight.Length; i++)
        {
            if (i > 0 && byHeight[i].Y - byHeight[i - 1].Y > SameRow)
                rank++;
            if (rank >= rows)
                break;
            edges.Add(new PageEdge(byHeight[i], true, rank));
        }

        for (int i = byHeight.Length - 1, rank = 0; i >= 0; i--)
        {
            if (i < byHeight.Length - 1 && byHeight[i + 1].Y - byHeight[i].Y > SameRow)
                rank++;
            if (rank >= rows)
                break;
            edges.Add(new PageEdge(byHeight[i], false, rank));
        }

        return edges;
    }

    /// <summary>
    /// Whether a line of another page is at the same place: in the same row from the edge, as some programs print the first page lower or
    /// higher than the others, or at the same height.
    /// </summary>
    public bool IsPlacedAs(in PageEdge other) =>
        IsTop == other.IsTop
        && Line.Page != other.Line.Page
        && (Rank == other.Rank || Math.Abs(Line.Y - other.Line.Y) <= SameHeight);
}
