using System.Globalization;

namespace AsmLsp.Core.Assembly;

/// <summary>What is fitted on the board, as far as somebody said so.</summary>
/// <param name="Marking">What is printed on the chip (<c>PIC16F84A-04/P</c>), or null.</param>
/// <param name="CrystalHertz">The rate of the crystal or resonator in hertz, or null.</param>
public sealed record BoardFacts(string? Marking, double? CrystalHertz)
{
    /// <summary>The chip as the marking spells it, with its marking; null without one.</summary>
    public string? Chip => Marking?.Split(' ', StringSplitOptions.RemoveEmptyEntries).FirstOrDefault();

    /// <summary>
    /// The highest clock of the speed grade in the marking, in hertz: '-04' is 4 MHz, '-10' and '-20' alike (ordering
    /// information of the data sheets, such as DS35007B, page 83); null where the marking has none.
    /// </summary>
    public double? HighestHertz
    {
        get
        {
            int dash = Marking?.IndexOf('-', StringComparison.Ordinal) ?? -1;
            if (dash < 0 || Marking!.Length < dash + 3)
                return null;
            return
                int.TryParse(
                    Marking.AsSpan(dash + 1, 2),
                    NumberStyles.None,
                    CultureInfo.InvariantCulture,
                    out int megahertz
                )
                && megahertz > 0
                ? megahertz * 1e6
                : null;
        }
    }
}
