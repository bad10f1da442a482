using System.Globalization;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Recovery.Listings.Gutter;

namespace AsmLsp.Core.Recovery.Listings;

/// <summary>
/// The order of a document's pages where they lie in another one: the numbers in front of the rows continue from page to page, or each
/// page has a printed number of its own. Where they do not prove it the pages stay as they are, and what jumps is reported.
/// </summary>
internal sealed class PageSequence
{
    // With fewer pages a number that happens to count proves nothing.
    private const int LeastPages = 3;

    // So many pages are named in the report.
    private const int MostNamed = 24;

    private readonly int[] order;
    private readonly Dictionary<int, int> ranks;

    private PageSequence(IReadOnlyList<PrintedPage> pages, int[] order, bool isByLines)
    {
        this.order = order;
        ranks = Enumerable.Range(0, order.Length).ToDictionary(i => pages[order[i]].Number, static i => i);
        string all = string.Join(
            ", ",
            order.Take(MostNamed).Select(i => pages[i].Number.ToString(CultureInfo.InvariantCulture))
        );
        Message =
            $"The pages of this document are not in the order of their {(isByLines ? "line numbers" : "printed numbers")}. They were read in the order {all}{(order.Length > MostNamed ? " and so on" : "")}.";
    }

    /// <summary>What the report says.</summary>
    public string Message { get; }

    /// <summary>The place of a page, by its number in the document, among the pages as they are read.</summary>
    public int RankOf(int page) => ranks.GetValueOrDefault(page, page);

    /// <summary>The pages as they are read.</summary>
    public PrintedPage[] Apply(IReadOnlyList<PrintedPage> pages) => [.. order.Select(i => pages[i])];

    /// <summary>The order that is proved; null where the pages are in order, or nothing proves another one.</summary>
    public static PageSequence? Find(IReadOnlyList<PrintedPage> pages, ListingFinder finder)
    {
        if (
            pages.Count < 2
            || pages.Any(static p => p.State != PrintedPageState.Read || p.Number == 0)
            || pages.DistinctBy(static p => p.Number).Count() != pages.Count
        )
            return null;
        int[]? byLines = ByLines(pages, finder.Gutter);
        int[]? byPages = ByPages(pages, finder);
        if (byLines is not null && byPages is not null && !byLines.AsSpan().SequenceEqual(byPages))
            return null;
        return (byLines ?? byPages) is { } order && !IsInOrder(order)
            ? new PageSequence(pages, order, byLines is not null)
            : null;
    }

    private static bool IsInOrder(int[] order)
    {
        for (int i = 0; i < order.Length; i++)
            if (order[i] != i)
                return false;
        return true;
    }

    // One listing with a number in front of its rows: sorted, each page begins where another one ends. Pages without such rows stay.
    private static int[]? ByLines(IReadOnlyList<PrintedPage> pages, DocumentGutter gutter)
    {
        var numbered = new List<(int Page, int First, int Last)>();
        for (int i = 0; i < pages.Count; i++)
        {
            int first = -1,
                last = -1;
            foreach (PrintedLine line in pages[i].Lines)
            {
                if (gutter.Of(line) is not { Reading.Number: >= 0 and var number })
                    continue;
                // A count that falls back on a page is that of another listing.
                if (number <= last)
                    return null;
                first = first < 0 ? number : first;
                last = number;
            }

            if (first >= 0)
                numbered.Add((i, first, last));
        }

        if (numbered.Count < 2)
            return null;
        (int Page, int First, int Last)[] sorted = [.. numbered.OrderBy(static n => n.First)];
        for (int i = 1; i < sorted.Length; i++)
            if (sorted[i].First != sorted[i - 1].Last + 1)
                return null;
        int[] order = [.. Enumerable.Range(0, pages.Count)];
        for (int i = 0; i < sorted.Length; i++)
            order[numbered[i].Page] = sorted[i].Page;
        return order;
    }

    // Each page with text has a number of its own in its header or footer; few are missing, and these are reported.
    private static int[]? ByPages(IReadOnlyList<PrintedPage> pages, ListingFinder finder)
    {
        Dictionary<int, PageNumberRange> numbers = PageNumbers.Of([
            .. pages
                .SelectMany(static p => p.Lines)
                .Where(finder.IsHeaderOrFooter)
                .Select(static l => new AsideLine(l, true, false)),
        ]);
        if (
            numbers.Count < LeastPages
            || pages.Any(p => !p.Lines.IsEmpty && !numbers.ContainsKey(p.Number))
            || numbers.Values.Any(static n => n.First != n.Last)
            || numbers.Values.Select(static n => n.First).Distinct().Count() != numbers.Count
            || numbers.Values.Max(static n => n.First) - numbers.Values.Min(static n => n.First) >= 2 * numbers.Count
        )
            return null;
        int[] placed = [.. Enumerable.Range(0, pages.Count).Where(i => numbers.ContainsKey(pages[i].Number))],
            order = [.. Enumerable.Range(0, pages.Count)];
        int[] sorted = [.. placed.OrderBy(i => numbers[pages[i].Number].First)];
        for (int i = 0; i < placed.Length; i++)
            order[placed[i]] = sorted[i];
        return order;
    }
}
