using AsmLsp.Core.Printed;
using AsmLsp.Core.Recovery.Listings.Gutter;
using AsmLsp.Core.Shapes;

namespace AsmLsp.Core.Recovery.Listings;

/// <summary>Finds the programs of a document: the selected rows, parted where one program ends and the next begins.</summary>
internal sealed class ListingFinder
{
    /// <summary>So many rows of other text between two parts with heads of their own make two listings.</summary>
    private const int LinesBetween = 8;

    /// <summary>How far from a listing a row may be that was read from a picture and is one of it, misread.</summary>
    private const int MostNear = 6;

    private readonly DocumentRows rows;
    private readonly ListingHeadings headings;
    private readonly HashSet<PrintedLine> headersAndFooters;

    public ListingFinder(IReadOnlyList<PrintedPage> pages)
    {
        rows = new DocumentRows(pages);
        headings = new ListingHeadings(rows);
        headersAndFooters = new HashSet<PrintedLine>(
            rows.Lines.Where((_, i) => rows.IsHeaderOrFooter(i)),
            ReferenceEqualityComparer.Instance
        );
    }

    /// <summary>All lines of the pages, in reading order.</summary>
    public IReadOnlyList<PrintedLine> Lines => rows.Lines;

    /// <summary>The numbers in front of the lines.</summary>
    public DocumentGutter Gutter => rows.Gutter;

    /// <summary>Whether a line is a page header or footer.</summary>
    public bool IsHeaderOrFooter(PrintedLine line) => headersAndFooters.Contains(line);

    /// <summary>The listings in the order of the document.</summary>
    public List<Listing> Find()
    {
        bool[] taken = new ListingRows(rows, headings).Take();
        var bounds = new ListingBounds(rows, headings, taken);
        var listings = new List<Listing>();
        int start = -1;
        int between = 0,
            last = -1;
        for (int i = 0; i <= rows.Count; i++)
        {
            if (i < rows.Count && !taken[i])
            {
                if (!rows.IsHeaderOrFooter(i))
                    between++;
                continue;
            }

            bool ends =
                i == rows.Count
                || (
                    start >= 0
                    && (
                        (AssemblyLook.IsEnd(rows.Texts[last]) && !bounds.MayBeRest(last, i))
                        || (between >= LinesBetween && bounds.HasHead(start, i))
                    )
                );
            if (ends && start >= 0)
            {
                (int first, int final) = bounds.WithoutProse(start, last);
                listings.AddRange(ScatteredExamples.Part(Selected(taken, first, final), ListingRows.LeastCode));
                start = -1;
            }

            if (i == rows.Count)
                break;
            if (start < 0)
                start = i;
            (last, between) = (i, 0);
        }

        return listings;
    }

    private List<FoundRow> Selected(bool[] taken, int first, int last)
    {
        var selected = new List<FoundRow>();
        int above = 0;
        for (int i = first; i <= last; i++)
        {
            if (taken[i])
            {
                selected.Add(new FoundRow(rows.Lines[i], rows.Texts[i], rows.Looks[i] == Look.Code, above));
                above = 0;
            }
            else if (!rows.IsHeaderOrFooter(i))
                above++;
        }

        return selected;
    }

    /// <summary>The lines that are not of a listing; of the others' lines, too.</summary>
    public IEnumerable<AsideLine> Aside(Listing chosen)
    {
        var inside = new HashSet<PrintedLine>(chosen.Lines, ReferenceEqualityComparer.Instance);
        int first = rows.IndexOf(chosen.Lines[0]),
            final = rows.IndexOf(chosen.Lines[^1]);
        for (int i = 0; i < rows.Count; i++)
            if (!inside.Contains(rows.Lines[i]))
                yield return new AsideLine(rows.Lines[i], rows.IsHeaderOrFooter(i), i > first && i < final)
                {
                    IsNear = IsNear(i, first, final),
                };
    }

    // Up to the first sentence; the lines after an 'end' are none of the program.
    private bool IsNear(int line, int first, int final)
    {
        if (line >= first && (line <= final || AssemblyLook.IsEnd(rows.Texts[final])))
            return false;
        if (line < first - MostNear || line > final + MostNear)
            return false;
        int step = line < first ? 1 : -1,
            end = line < first ? first : final;
        for (int i = line; i != end; i += step)
            if (
                !rows.IsHeaderOrFooter(i)
                && !(rows.Lines[i].IsOcr && (OcrLook.MayBeCode(rows.Texts[i]) || OcrLook.HasOperation(rows.Texts[i])))
            )
                return false;
        return true;
    }
}
