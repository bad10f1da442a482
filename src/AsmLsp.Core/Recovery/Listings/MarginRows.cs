using AsmLsp.Core.Printed;
using AsmLsp.Core.Shapes;

namespace AsmLsp.Core.Recovery.Listings;

/// <summary>
/// Headers and footers that no other page repeats: they are printed higher than the listing begins on the other pages, or lower than it ends there; or,
/// clear of it, in a font that none of its rows is set in or as nothing but a page number.
/// </summary>
internal sealed class MarginRows
{
    // A header has so many rows at most.
    private const int MostRows = 3;

    // Clear of the body by so many steps of its rows, where the margins are known and where they are not.
    private const double InMargin = 1.4;
    private const double Clear = 1.9;

    // So many pages show where the body begins, and so near to each other, in steps.
    private const int LeastPages = 2;
    private const double SamePlace = 2;

    private readonly HashSet<string> fonts = new(StringComparer.Ordinal);
    private readonly double step;
    private readonly double top = double.MinValue;
    private readonly double bottom = double.MaxValue;

    private MarginRows(IReadOnlyList<PrintedPage> pages)
    {
        var steps = new List<double>();
        List<double> tops = [],
            bottoms = [];
        foreach (PrintedPage page in pages)
        {
            double first = double.MaxValue,
                last = double.MinValue,
                above = double.NaN;
            foreach (PrintedLine line in page.Lines)
            {
                bool isBody = IsBody(line);
                if (isBody)
                {
                    (first, last) = (Math.Min(first, line.Y), Math.Max(last, line.Y));
                    fonts.UnionWith(line.FontNames.IsEmpty ? [line.FontFamily] : line.FontNames);
                    if (line.Y > above)
                        steps.Add(line.Y - above);
                }

                above = isBody ? line.Y : double.NaN;
            }

            if (last < first)
                continue;
            tops.Add(first);
            bottoms.Add(last);
        }

        steps.Sort();
        step = steps.Count == 0 ? 0 : steps[steps.Count / 2];
        if (step == 0)
            return;
        double highest = tops.Min(),
            lowest = bottoms.Max();
        if (tops.Count(t => t <= highest + SamePlace * step) >= LeastPages)
            top = highest;
        if (bottoms.Count(b => b >= lowest - SamePlace * step) >= LeastPages)
            bottom = lowest;
    }

    /// <summary>Adds them to the headers and footers.</summary>
    /// <param name="pages">The pages.</param>
    /// <param name="edges">The lines at the edges of the pages that do not look like code.</param>
    /// <param name="found">The page headers and footers found so far.</param>
    public static void Add(IReadOnlyList<PrintedPage> pages, HashSet<PrintedLine> edges, HashSet<PrintedLine> found)
    {
        var margins = new MarginRows(pages);
        if (margins.step == 0)
            return;
        foreach (PrintedPage page in pages)
        {
            PrintedLine[] byHeight = [.. page.Lines.OrderBy(static l => l.Y).ThenBy(static l => l.X)];
            margins.Add(byHeight, edges, found, isTop: true);
            Array.Reverse(byHeight);
            margins.Add(byHeight, edges, found, isTop: false);
        }
    }

    // The lines of one page from its edge on.
    private void Add(PrintedLine[] lines, HashSet<PrintedLine> edges, HashSet<PrintedLine> found, bool isTop)
    {
        int count = 0;
        while (
            count < lines.Length && count < MostRows && (found.Contains(lines[count]) || edges.Contains(lines[count]))
        )
            count++;
        // The widest white is below a header, so the most rows are tried first.
        for (; count > 0; count--)
        {
            if (count == lines.Length)
                continue;
            double gap = Math.Abs(lines[count].Y - lines[count - 1].Y);
            if (gap >= InMargin * step && lines.AsSpan(0, count).ToArray().All(l => IsHeader(l, gap, isTop, found)))
                break;
        }

        found.UnionWith(lines.AsSpan(0, count).ToArray());
    }

    private bool IsHeader(PrintedLine line, double gap, bool isTop, HashSet<PrintedLine> found) =>
        found.Contains(line)
        || (
            !line.IsOcr
            && (
                (isTop ? line.Y < top - InMargin * step : line.Y > bottom + InMargin * step)
                || (gap >= Clear * step && (!fonts.Contains(line.FontFamily) || PageNumber.IsOfBook(line.Text)))
            )
        );

    private static bool IsBody(PrintedLine line) =>
        AssemblyLook.Of(line.Text) is Look.Code or Look.Comment || AssemblyLook.IsEnd(line.Text);
}
