using AsmLsp.Core.Printed;

namespace AsmLsp.Core.Recovery.Listings;

/// <summary>
/// The family and size that a row is set in. Bold and slanted cuts of a family count as one: listings print their labels or comments in them.
/// </summary>
/// <param name="Family">The name of the font without its cut.</param>
/// <param name="HalfPoints">Its size in half points.</param>
/// <param name="IsMonospaced">Whether every character of it has the same width: families name their faces for listings and for text alike.</param>
internal readonly record struct Typeface(string Family, int HalfPoints, bool IsMonospaced)
{
    public static Typeface Of(PrintedLine line)
    {
        string family = line.FontFamily;
        int cut = family.AsSpan().IndexOfAny('-', ',');
        return new Typeface(
            cut > 0 ? family[..cut] : family,
            (int)Math.Round(line.FontSize * 2),
            line is { IsMonospaced: true, IsOcr: false }
        );
    }
}
