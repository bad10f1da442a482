using System.Globalization;

namespace AsmLsp.Core.Assembly;

/// <summary>Numbers as people read them in messages.</summary>
internal static class Show
{
    /// <summary>Hexadecimal with <c>0x</c> and at least some digits; a negative number keeps its sign.</summary>
    public static string Hex(int value, int digits = 4) =>
        (value < 0 ? "-0x" : "0x")
        + Math.Abs((long)value)
            .ToString("X" + digits.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);

    /// <summary>Decimal with a thin form for people: no separators.</summary>
    public static string Decimal(int value) => value.ToString(CultureInfo.InvariantCulture);
}
