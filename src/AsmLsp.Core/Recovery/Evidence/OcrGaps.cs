using AsmLsp.Core.Recovery.Listings;
using AsmLsp.Core.Recovery.Results;

namespace AsmLsp.Core.Recovery.Evidence;

/// <summary>
/// Places of a page at which there is ink, and no line was read of it; and, where dirt hides the ink, places at which there is room for a line.
/// </summary>
internal static class OcrGaps
{
    // The base lines of two lines with one between them are so many times as far apart as usual.
    private const double Room = 1.6;

    /// <summary>The places.</summary>
    /// <param name="lines">The lines of the listing.</param>
    public static List<MissingPiece> Find(List<ListingLine> lines)
    {
        var found = new List<MissingPiece>();
        double pitch = Pitch(lines);
        ListingLine? before = null;
        foreach (ListingLine line in lines)
        {
            if (line.Printed is not { IsOcr: true } printed)
                continue;
            bool hasRoom =
                before?.Printed is { } above
                && above.Page == printed.Page
                && above.TextColumn == printed.TextColumn
                && pitch > 0
                && printed.Y - above.Y > Room * pitch;
            if (printed.HasUnreadAbove)
                found.Add(
                    new MissingPiece(
                        DocumentCodes.MissingLines,
                        before ?? line,
                        line,
                        "a line may be missing above",
                        "Something is printed above this line that was not read: a line may be missing. Compare with the page."
                    )
                );
            else if (hasRoom && (printed.IsInkUnknown || before!.Printed!.HasUnreadBelow))
                found.Add(
                    new MissingPiece(
                        DocumentCodes.MissingLines,
                        before!,
                        line,
                        "a line may be missing above",
                        "There is room for a line above this one, and the page is too dirty to see whether one is printed there. Compare with the page."
                    )
                );
            before = line;
            if (printed.HasUnreadBelow)
                found.Add(
                    new MissingPiece(
                        DocumentCodes.MissingLines,
                        line,
                        line,
                        "a line may be missing below",
                        "Something is printed below this line that was not read: a line may be missing below this one. Compare with the page."
                    )
                );
        }

        return found;
    }

    private static double Pitch(List<ListingLine> lines)
    {
        var steps = new List<double>();
        for (int i = 1; i < lines.Count; i++)
            if (
                lines[i - 1].Printed is { } above
                && lines[i].Printed is { } below
                && above.Page == below.Page
                && below.Y > above.Y
            )
                steps.Add(below.Y - above.Y);
        steps.Sort();
        return steps.Count == 0 ? 0 : steps[steps.Count / 2];
    }
}
