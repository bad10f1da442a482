using AsmLsp.Core.Recovery.Listings;

namespace AsmLsp.Core.Recovery.Suspicions;

/// <summary>
/// Marks where a page may have to be read with another number of text columns: what is printed there is all in the source, and may be in
/// another order. One mark for each run of such lines.
/// </summary>
internal static class ColumnDoubts
{
    private const string Doubt = "one text column here, or two? The lines may belong in another order";

    /// <summary>The lines with the marks.</summary>
    public static List<ListingLine> Mark(List<ListingLine> lines)
    {
        var marked = new List<ListingLine>(lines.Count);
        (int Page, int Column) run = default;
        foreach (ListingLine line in lines)
        {
            bool begins = false;
            if (line.Printed is { HasUncertainColumns: true } printed)
            {
                begins = run != (printed.Page, printed.TextColumn);
                run = (printed.Page, printed.TextColumn);
            }

            marked.Add(begins && line.Doubt is null ? line with { Doubt = Doubt } : line);
        }

        return marked;
    }
}
