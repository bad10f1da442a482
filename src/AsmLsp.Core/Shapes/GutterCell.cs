using System.Globalization;

namespace AsmLsp.Core.Shapes;

/// <summary>One number in front of a line.</summary>
/// <param name="Start">Its first column.</param>
/// <param name="End">The column after it, and after the sign that is close to it.</param>
/// <param name="Digits">How many digits it has.</param>
/// <param name="Value">Its value read as a decimal number, or -1.</param>
/// <param name="Hex">Its value read as a hexadecimal number, or -1 where a digit is open.</param>
internal readonly record struct GutterCell(int Start, int End, int Digits, int Value, int Hex)
{
    /// <summary>A word of which not every digit is known before the program is linked.</summary>
    public const int Open = -2;

    /// <summary>Whether it could be a line number.</summary>
    public bool IsDecimal => Value >= 0 && Digits <= 6;

    /// <summary>Whether it could be an address of the program memory; a listing prints three digits or more.</summary>
    public bool IsAddress => Digits is >= 3 and <= 6 && Hex is >= 0 and <= 0xFFFF;

    /// <summary>Whether it could be a word of 14 bits.</summary>
    public bool IsWord => Digits == 4 && Hex is (>= 0 and <= 0x3FFF) or Open;

    /// <summary>Whether it could be a value of 32 bits, as listings print it beside a name that gets one.</summary>
    public bool IsValue => Digits == 8;

    /// <summary>Reads digits as a number in front of a line; false for what could be a name or is too long.</summary>
    public static bool TryRead(ReadOnlySpan<char> digits, out int value, out int hex)
    {
        (value, hex) = (-1, -1);
        if (digits.Length is 0 or > 8)
            return false;
        if (digits.Contains('?'))
        {
            hex = Open;
            return digits.Length == 4 && char.IsAsciiHexDigit(digits[0]) && digits[1..].Trim('?').IsEmpty;
        }

        if (digits.IndexOfAnyExceptInRange('0', '9') < 0)
        {
            if (!int.TryParse(digits, NumberStyles.None, CultureInfo.InvariantCulture, out value))
                return false;
        }
        // 'add', 'face' and 'dec1:' are names: no address and no word of 14 bits begins with a letter (0x3FFF is the highest), only a value of eight digits may.
        else if (!char.IsAsciiDigit(digits[0]) && (digits.Length != 8 || !digits.ContainsAnyInRange('0', '9')))
            return false;
        if (!uint.TryParse(digits, NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture, out uint h))
            return false;
        hex = h <= int.MaxValue ? (int)h : -1;
        return value >= 0 || hex >= 0 || digits.Length == 8;
    }
}
