using AsmLsp.Core.Printed;
using AsmLsp.Core.Recovery.Listings;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Shapes;

namespace AsmLsp.Core.Recovery.Evidence;

/// <summary>Pages between those of a listing, or after it where it does not end, of which nothing is known: a part of the program may be on them.</summary>
internal static class UnreadPages
{
    /// <summary>The places at which such a page belongs into the listing.</summary>
    /// <param name="pages">The pages of the document.</param>
    /// <param name="lines">The lines of the listing.</param>
    public static List<MissingPiece> Find(IReadOnlyList<PrintedPage> pages, List<ListingLine> lines)
    {
        var found = new List<MissingPiece>();
        List<ListingLine> printed = [.. lines.Where(static l => l is { Printed: not null, IsProse: false })];
        if (printed.Count == 0)
            return found;
        foreach (PrintedPage page in pages)
        {
            if (!IsMissed(page, printed[0].Page, printed[^1]))
                continue;
            int next = printed.FindIndex(l => l.Page > page.Number);
            string words = $"page {page.Number} was not read: lines may be missing {(next < 0 ? "below" : "above")}";
            string message =
                $"Page {page.Number} {Why(page.State)}. If a part of the program is on it, it is missing {(next < 0 ? "below this one" : "above this line")}.";
            found.Add(
                next < 0
                    ? new MissingPiece(DocumentCodes.UnreadPage, printed[^1], printed[^1], words, message)
                    : new MissingPiece(DocumentCodes.UnreadPage, printed[next - 1], printed[next], words, message)
            );
        }

        return found;
    }

    /// <summary>Whether a page was not read and a listing continues over it.</summary>
    /// <param name="page">The page.</param>
    /// <param name="firstPage">The first page of the listing.</param>
    /// <param name="last">Its last line.</param>
    public static bool IsMissed(PrintedPage page, int firstPage, ListingLine last) =>
        page.State != PrintedPageState.Read
        && page.Number > firstPage
        && (page.Number < last.Page || (page.Number == last.Page + 1 && !AssemblyLook.IsEnd(last.Text)));

    /// <summary>What is wrong with it, to follow its number.</summary>
    public static string Why(PrintedPageState state) =>
        state switch
        {
            PrintedPageState.PictureOnly => "shows a picture and no text",
            PrintedPageState.Illegible => "shows letters that the document does not name",
            PrintedPageState.Unrecognized => "shows a picture in which no text was found",
            _ => "is damaged and could not be read",
        };
}
