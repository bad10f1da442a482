using AsmLsp.Core.Shapes;

namespace AsmLsp.Core.Recovery.Listings;

/// <summary>How many rows of each typeface of a document are code: a listing is set in one, so that this distinguishes its typeface from that of the text.</summary>
internal sealed class TypefaceCounts
{
    private readonly Dictionary<Typeface, (int Code, int Other, int All)> counts = [];

    public TypefaceCounts(DocumentRows rows)
    {
        for (int i = 0; i < rows.Count; i++)
        {
            if (rows.IsHeaderOrFooter(i))
                continue;
            (int code, int other, int all) = Of(rows.TypefaceOf(i));
            counts[rows.TypefaceOf(i)] = (
                code + (rows.Looks[i] is Look.Code or Look.Comment ? 1 : 0),
                other + (rows.Looks[i] == Look.Other ? 1 : 0),
                all + 1
            );
        }
    }

    /// <summary>The rows in a typeface: those that are code or comments, those that can be neither, all.</summary>
    public (int Code, int Other, int All) Of(Typeface typeface) => counts.GetValueOrDefault(typeface);

    /// <summary>Whether listings are set in a typeface.</summary>
    public bool IsOfListings(Typeface typeface) =>
        Of(typeface) is var (code, _, all) && code >= ListingRows.LeastCode && code * 10 >= all * 4;
}
