using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Listings;

/// <summary>Where a listing begins and ends among the rows that were selected.</summary>
internal sealed class ListingBounds(DocumentRows rows, ListingHeadings headings, bool[] taken)
{
    /// <summary>How far into a part its head is looked for.</summary>
    private const int HeadLines = 40;

    /// <summary>So many rows of other text at the end are no rest of a comment.</summary>
    private const int ProseLines = 3;

    /// <summary>
    /// Whether <c>end</c> may be the last word of the comment above it: the program continues right below it without a head and has an end of its own.
    /// </summary>
    public bool MayBeRest(int end, int next)
    {
        int above = end - 1;
        while (above > 0 && end - above < ContinuationRows.MostRests && rows.Looks[above] == Look.Other && taken[above])
            above--;
        if (above < 0 || next != end + 1 || !rows.Texts[above].Contains(';', StringComparison.Ordinal))
            return false;
        int code = 0;
        for (int i = next; i < rows.Count && (taken[i] || rows.IsHeaderOrFooter(i)); i++)
        {
            if (!taken[i])
                continue;
            if (AssemblyLook.IsHead(rows.Texts[i]))
                return false;
            code += rows.Looks[i] == Look.Code ? 1 : 0;
            if (AssemblyLook.IsEnd(rows.Texts[i]))
                return code > 0 && rows.TypefaceOf(i) == rows.TypefaceOf(end);
        }

        return false;
    }

    /// <summary>Whether a program begins at a row: it has a head that the part before has, too, or one that names the chip.</summary>
    public bool HasHead(int start, int from)
    {
        bool address = false;
        for (int i = from, seen = 0; i < rows.Count && seen < HeadLines; i++)
        {
            if (!taken[i])
                continue;
            seen++;
            if (!AssemblyLook.IsHead(rows.Texts[i]))
                continue;
            if (AssemblyLook.KeywordOf(rows.Texts[i]) != Keyword.Org)
                return true;
            address = true;
        }

        if (!address)
            return false;
        // A head that has the chip alone continues with the first address.
        bool named = false;
        for (int i = start; i < from; i++)
        {
            if (!taken[i] || !AssemblyLook.IsHead(rows.Texts[i]))
                continue;
            if (AssemblyLook.KeywordOf(rows.Texts[i]) == Keyword.Org)
                return true;
            named = true;
        }

        return !named;
    }

    /// <summary>No program begins with a row that is neither code nor a comment; and what is left of a comment at its end is short.</summary>
    public (int First, int Last) WithoutProse(int first, int last)
    {
        while (
            first < last
            && !(rows.Lines[first].IsOcr && taken[first])
            && !rows.Gutter.IsRow(rows.Lines[first])
            && (
                !taken[first]
                || rows.Looks[first] == Look.Other
                || (rows.Looks[first] == Look.Perhaps && (IsProse(first) || headings.IsHeading(taken, first)))
            )
        )
            first++;
        int end = last,
            other = 0;
        for (
            ;
            end > first && !rows.Gutter.IsRow(rows.Lines[end]) && (!taken[end] || rows.Looks[end] == Look.Other);
            end--
        )
            if (taken[end])
                other++;
        return (first, other >= ProseLines ? end : last);
    }

    private bool IsProse(int line) =>
        !rows.Texts[line].Contains('=', StringComparison.Ordinal) && DocumentRows.Words(rows.Texts[line]).Length > 2;
}
