using AsmLsp.Core.Printed;
using AsmLsp.Core.Recovery.Listings.Gutter;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Listings;

/// <summary>
/// Selects the rows of a document that belong to listings. A listing is set in one typeface, known by how many of its rows are code. What is between its
/// first and its last row in that typeface belongs to it, so that the rest of a wrapped comment does; what is set in another one does not, unless it is code.
/// </summary>
internal sealed class ListingRows(DocumentRows rows, ListingHeadings headings)
{
    /// <summary>A listing has at least this many rows of code; fewer are an example in the text.</summary>
    public const int LeastCode = 4;

    private readonly CodeNearby near = new(rows);

    /// <summary>Which rows belong to listings.</summary>
    public bool[] Take()
    {
        var typefaces = new TypefaceCounts(rows);
        bool[] taken = new bool[rows.Count];
        for (int i = 0; i < rows.Count; i++)
            taken[i] = rows.Looks[i] == Look.Code;
        for (int i = 0; i < rows.Count; i++)
        {
            if (rows.IsHeaderOrFooter(i))
                continue;
            (int code, int other, int all) = typefaces.Of(rows.TypefaceOf(i));
            // A font that listings are set in: what else is set in it belongs to them, too. No sentence begins as a comment does.
            if (typefaces.IsOfListings(rows.TypefaceOf(i)))
                taken[i] |=
                    code * 10 >= all * 7 || other * 10 <= all || rows.Looks[i] == Look.Comment || near.IsNearCode(i);
            else if (rows.Looks[i] is Look.Comment or Look.Perhaps || code * 10 >= all * 2)
                taken[i] |= near.IsAmongCode(i) && !headings.IsSideHeading(i);
        }

        // Rows of words continue with the line above them, over the end of a page too; a number alone is that of a blank line.
        for (int i = 1, above = 0; i < rows.Count; i++)
        {
            if (!rows.IsHeaderOrFooter(i - 1))
                above = i - 1;
            if (
                !taken[i]
                && taken[above]
                && !rows.IsHeaderOrFooter(i)
                && (AssemblyLook.IsRowOfWords(rows.Lines[i].Text) || IsNumberOnly(rows.Lines[i].Text))
            )
                taken[i] = true;
        }

        new ContinuationRows(rows, near).Take(taken, typefaces);
        for (int i = 0; i < rows.Count; i++)
            taken[i] &= !headings.IsCaption(i);
        new IsolatedCode(rows).Drop(taken);
        TakeMisreadHeads(taken);
        TakeRows(taken);
        return taken;
    }

    // What the numbers in front prove to be a row of the listing, or the rest of one, belongs to it whatever it looks like.
    private void TakeRows(bool[] taken)
    {
        for (int i = 0; i < rows.Count; i++)
            taken[i] =
                rows.Gutter.KindOf(rows.Lines[i]) is GutterRowKind.Listing or GutterRowKind.Rest
                || (taken[i] && rows.Gutter.KindOf(rows.Lines[i]) != GutterRowKind.Page);
    }

    // Where a machine has read the page, the lines right above a program may be its head, misread: what names the chip and the radix must not be lost.
    private void TakeMisreadHeads(bool[] taken)
    {
        for (int i = rows.Count - 2; i >= 0; i--)
        {
            if (
                taken[i]
                || !taken[i + 1]
                || !rows.Lines[i].IsOcr
                || rows.IsHeaderOrFooter(i)
                || rows.Lines[i].Page != rows.Lines[i + 1].Page
            )
                continue;
            bool starts = true;
            for (int j = i + 1; j < rows.Count && starts && taken[j]; j++)
                if (AssemblyLook.IsHead(rows.Texts[j]) && AssemblyLook.KeywordOf(rows.Texts[j]) == Keyword.List)
                    starts = false;
            if (starts && OcrLook.MayBeCode(rows.Texts[i]))
                taken[i] = true;
        }
    }

    private static bool IsNumberOnly(string text) =>
        text.AsSpan().Trim() is { Length: > 0 and <= 6 } number && number.IndexOfAnyExceptInRange('0', '9') < 0;
}
