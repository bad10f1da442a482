using System.Globalization;
using AsmLsp.Core.Recovery.Listings;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Shapes;

namespace AsmLsp.Core.Recovery.Evidence;

/// <summary>
/// Follows the printed page numbers of the pages that carry a listing: where they jump, a page is missing; where they fall
/// back, the pages are in another order or one is there twice. A page whose lines are all those of an earlier one is reported too.
/// </summary>
internal static class MissingPages
{
    /// <summary>A page with fewer lines may be like another by chance.</summary>
    private const int LeastSame = 10;

    /// <summary>The places at which the pages do not continue.</summary>
    /// <param name="lines">The lines of the listing, without what was in front of them.</param>
    /// <param name="aside">What the document holds beside the listing.</param>
    /// <param name="reported">What the numbers in front of the lines have reported already.</param>
    /// <param name="rankOf">The place of a page among the pages as they are read.</param>
    public static List<MissingPiece> Find(
        List<ListingLine> lines,
        IReadOnlyList<AsideLine> aside,
        IReadOnlyList<MissingPiece> reported,
        Func<int, int> rankOf
    )
    {
        var found = new List<MissingPiece>();
        List<ListingLine> printed = [.. lines.Where(static l => l is { Printed: not null, IsProse: false })];
        if (printed.Count == 0 || printed[0].Page == printed[^1].Page)
            return found;
        Dictionary<int, PageNumberRange> numbers = PageNumbers.Of(aside);
        List<List<ListingLine>> pages = ByPage(printed);
        int step = MissingLines.Step([.. printed.Where(static l => l.Number >= 0)]) ?? 1;
        for (int i = 1; i < pages.Count; i++)
        {
            ListingLine before = pages[i - 1][^1],
                following = pages[i][0];
            if (reported.Any(p => p.After.Page == following.Page && p.Before.Page == before.Page))
                continue;
            if (SameAs(pages, i) is { } page)
            {
                found.Add(
                    new MissingPiece(
                        DocumentCodes.PageOrder,
                        before,
                        following,
                        string.Create(
                            CultureInfo.InvariantCulture,
                            $"page {following.Page} is printed like page {page}"
                        ),
                        string.Create(
                            CultureInfo.InvariantCulture,
                            $"Page {following.Page} holds the same lines as page {page}: the page seems to be in this document twice. Remove its lines here if that is so."
                        )
                    )
                );
                continue;
            }

            // Numbers in front of the lines that continue prove that nothing is missing.
            if (
                GoesOn(pages[i - 1], pages[i], step)
                || !numbers.TryGetValue(before.Page, out PageNumberRange a)
                || !numbers.TryGetValue(following.Page, out PageNumberRange b)
            )
                continue;
            int missing = b.First - a.Last - (rankOf(following.Page) - rankOf(before.Page));
            if (missing != 0)
                found.Add(Jump(before, following, a, b, missing, numbers));
        }

        AddRest(found, pages[^1], numbers);
        return found;
    }

    private static List<List<ListingLine>> ByPage(List<ListingLine> lines)
    {
        var pages = new List<List<ListingLine>>();
        foreach (ListingLine line in lines)
        {
            if (pages.Count == 0 || pages[^1][0].Page != line.Page)
                pages.Add([]);
            pages[^1].Add(line);
        }

        return pages;
    }

    // The earlier page that has all the lines of a page, or null.
    private static int? SameAs(List<List<ListingLine>> pages, int index)
    {
        if (pages[index].Count < LeastSame)
            return null;
        for (int i = 0; i < index; i++)
        {
            if (pages[i].Count != pages[index].Count)
                continue;
            int same = 0;
            while (
                same < pages[i].Count
                && pages[i][same].Text.AsSpan().Trim().SequenceEqual(pages[index][same].Text.AsSpan().Trim())
            )
                same++;
            if (same == pages[i].Count)
                return pages[i][0].Page;
        }

        return null;
    }

    private static bool GoesOn(List<ListingLine> page, List<ListingLine> next, int step)
    {
        int last = page.FindLast(static l => l.Number >= 0)?.Number ?? -1,
            first = next.Find(static l => l.Number >= 0)?.Number ?? -1;
        return last >= 0 && first == last + step;
    }

    private static MissingPiece Jump(
        ListingLine before,
        ListingLine following,
        PageNumberRange a,
        PageNumberRange b,
        int missing,
        Dictionary<int, PageNumberRange> numbers
    )
    {
        if (missing < 0)
        {
            string same =
                b.First == a.Last
                    ? "The page may be in this document twice"
                    : "The pages seem to be in the wrong order";
            return new MissingPiece(
                DocumentCodes.PageOrder,
                before,
                following,
                string.Create(CultureInfo.InvariantCulture, $"printed page {b.First} comes after {a.Last}"),
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"Page {following.Page} of this document has the printed number {b.First}, but page {before.Page} has {a.Last}. {same}: compare them, and put the lines where they belong."
                )
            );
        }

        int first = b.First - missing,
            last = b.First - 1;
        foreach ((int number, PageNumberRange range) in numbers)
        {
            if (number == before.Page || number == following.Page || range.First < first || range.Last > last)
                continue;
            return new MissingPiece(
                DocumentCodes.PageOrder,
                before,
                following,
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"printed page {range.First} belongs above; see page {number}"
                ),
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"Page {following.Page} of this document has the printed number {b.First}, but number {range.First} is on page {number}: the pages seem to be in the wrong order. Put the lines of page {number} where they belong."
                )
            );
        }

        string which =
            first == last
                ? string.Create(CultureInfo.InvariantCulture, $"page {first} seems")
                : string.Create(CultureInfo.InvariantCulture, $"pages {first} to {last} seem");
        return new MissingPiece(
            DocumentCodes.MissingPage,
            before,
            following,
            string.Create(CultureInfo.InvariantCulture, $"printed {which} to be missing above"),
            string.Create(
                CultureInfo.InvariantCulture,
                $"The printed page numbers go from {a.Last} (page {before.Page} of this document) to {b.First} (page {following.Page}): printed {which} to be missing. If a part of the program was on it, put it in above this line."
            )
        );
    }

    // 'Page 5 of 7' at the bottom of the last page.
    private static void AddRest(
        List<MissingPiece> found,
        List<ListingLine> last,
        Dictionary<int, PageNumberRange> numbers
    )
    {
        if (
            !numbers.TryGetValue(last[0].Page, out PageNumberRange range)
            || range.Total <= range.Last
            || last.Exists(static l => AssemblyLook.IsEnd(l.Text))
        )
            return;
        if (numbers.Keys.Any(p => p > last[0].Page && numbers[p].Last > range.Last))
            return;
        string which =
            range.Last + 1 == range.Total
                ? string.Create(CultureInfo.InvariantCulture, $"page {range.Total} is")
                : string.Create(CultureInfo.InvariantCulture, $"pages {range.Last + 1} to {range.Total} are");
        found.Add(
            new MissingPiece(
                DocumentCodes.MissingPage,
                last[^1],
                last[^1],
                $"printed {which} missing below",
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"The listing goes to page {range.Last} of {range.Total} by its printed numbers and does not close with 'end': printed {which} not in this document. Find the rest, and put its lines in below this one."
                )
            )
        );
    }
}
