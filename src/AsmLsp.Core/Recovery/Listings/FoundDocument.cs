using System.Collections.Immutable;
using System.Runtime.CompilerServices;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Recovery.Listings.Ocr;

namespace AsmLsp.Core.Recovery.Listings;

/// <summary>
/// The listings of a document, with what was learned from all of its pages. A listing that lies on the wanted pages as a whole is found as in the whole
/// document, so that choosing it by its pages or by its number gives the same text.
/// </summary>
internal sealed class FoundDocument
{
    private static readonly ConditionalWeakTable<PrintedDocument, FoundDocument> Known = [];

    private FoundDocument(PrintedPage[] pages)
    {
        pages = OcrRows.Correct(pages);
        Parted = GluedNumbers.Part(pages);
        Finder = new ListingFinder(Parted);
        Sequence = PageSequence.Find(Parted, Finder);
        if (Sequence is not null)
        {
            (pages, Parted) = (Sequence.Apply(pages), Sequence.Apply(Parted));
            Finder = new ListingFinder(Parted);
        }

        Pages = [.. pages];
        Listings = ListingParts.Join(FileListings.Part(Finder.Find(), Finder));
        Candidates = Listings;
    }

    private FoundDocument(FoundDocument all, List<Listing> candidates)
    {
        (Pages, Parted, Finder, Listings, Sequence) = (all.Pages, all.Parted, all.Finder, all.Listings, all.Sequence);
        Candidates = candidates;
    }

    /// <summary>The order of the pages where they lie in another one; null where they lie in it.</summary>
    public PageSequence? Sequence { get; }

    /// <summary>The place of a page, by its number in the document, among the pages as they are read.</summary>
    public int RankOf(int page) => Sequence?.RankOf(page) ?? page;

    /// <summary>The pages that were looked at, in the order in which they are read.</summary>
    public ImmutableArray<PrintedPage> Pages { get; }

    /// <summary>The same with what was glued together parted.</summary>
    public PrintedPage[] Parted { get; }

    public ListingFinder Finder { get; }

    /// <summary>All listings of the pages that were looked at.</summary>
    public List<Listing> Listings { get; }

    /// <summary>Those that are to be chosen from.</summary>
    public List<Listing> Candidates { get; }

    /// <summary>The listings of a document.</summary>
    /// <param name="document">The document.</param>
    /// <param name="wanted">The pages to look at, from 1; empty for all.</param>
    public static FoundDocument Of(PrintedDocument document, ImmutableHashSet<int> wanted)
    {
        if (wanted.IsEmpty)
            return Known.GetValue(document, static d => new FoundDocument([.. d.Pages]));
        PrintedPage[] pages = [.. document.Pages.Where(p => wanted.Contains(p.Number))];
        // Other pages may not have been read where that takes long.
        if (
            pages.Length == 0
            || document.Pages.Any(static p => p.State != PrintedPageState.Read || p.Lines.Any(static l => l.IsOcr))
        )
            return new FoundDocument(pages);
        FoundDocument all = Of(document, []);
        List<Listing> touched = all.Listings.FindAll(l => l.Lines.Exists(r => wanted.Contains(r.Page)));
        return touched.Count > 0 && touched.TrueForAll(l => l.Lines.TrueForAll(r => wanted.Contains(r.Page)))
            ? new FoundDocument(all, touched)
            : new FoundDocument(pages);
    }
}
