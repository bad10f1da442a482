using System.Globalization;

namespace AsmLsp.Core.Assembly;

/// <summary>How a literal came to its value.</summary>
public enum LiteralNotation
{
    /// <summary>Bare digits: the radix in force decides.</summary>
    Bare,

    /// <summary>Hexadecimal by its own notation.</summary>
    Hexadecimal,

    /// <summary>Decimal by its own notation.</summary>
    Decimal,

    /// <summary>Binary by its own notation.</summary>
    Binary,

    /// <summary>Octal by its own notation.</summary>
    Octal,

    /// <summary>A character.</summary>
    Character,
}

/// <summary>Why a literal has no value.</summary>
public enum LiteralFault
{
    /// <summary>It has one.</summary>
    None,

    /// <summary>A digit that the notation does not have.</summary>
    BadDigit,

    /// <summary>More than 32 bits.</summary>
    TooLarge,

    /// <summary>No digit at all.</summary>
    NoDigit,

    /// <summary>More than one character where one is wanted.</summary>
    TooLong,

    /// <summary>The closing quote is missing.</summary>
    Unclosed,
}

/// <summary>A literal read: its value, notation and base, and what is wrong with it.</summary>
/// <param name="Value">The value; 0 where there is a fault that leaves none.</param>
/// <param name="Notation">How the value was written.</param>
/// <param name="Radix">The base of the digits: 2, 8, 10 or 16; 0 for a character.</param>
/// <param name="Fault">What is wrong, or <see cref="LiteralFault.None"/>.</param>
/// <param name="FaultyDigit">The digit that the notation does not have, or '\0'.</param>
/// <param name="IsAmbiguous">Whether the digits could be meant as binary or as hexadecimal.</param>
public readonly record struct LiteralReading(
    int Value,
    LiteralNotation Notation,
    int Radix,
    LiteralFault Fault = LiteralFault.None,
    char FaultyDigit = '\0',
    bool IsAmbiguous = false
);

/// <summary>Reads numbers and characters in all notations of printed listings; see docs/language.md.</summary>
public static class Literals
{
    /// <summary>Reads a literal as written, under a radix (2, 8, 10 or 16) for bare digits.</summary>
    public static LiteralReading Read(string text, int radix)
    {
        ArgumentNullException.ThrowIfNull(text);
        if (text.Length == 0)
            return new(0, LiteralNotation.Bare, radix, LiteralFault.NoDigit);
        if (text[0] == '\'')
            return Character(text);
        if (text.Length > 1 && text[1] == '\'')
            return Quoted(text);
        if (text[0] == '.')
            return Digits(text.AsSpan(1), 10, LiteralNotation.Decimal);
        if (text.Length > 2 && text[0] == '0' && text[1] is 'x' or 'X')
            return Digits(text.AsSpan(2), 16, LiteralNotation.Hexadecimal);
        if (text.Length > 2 && text[0] == '0' && text[1] is 'b' or 'B' && AreDigits(text.AsSpan(2), 2))
            return ZeroB(text, radix);

        char last = text[^1];
        if (last is 'h' or 'H')
            return Digits(text.AsSpan(0, text.Length - 1), 16, LiteralNotation.Hexadecimal);
        // A letter at the end names the base only where the radix does not count it among its digits.
        if (radix < 16)
        {
            if (last is 'b' or 'B')
                return Digits(text.AsSpan(0, text.Length - 1), 2, LiteralNotation.Binary);
            if (last is 'd' or 'D')
                return Digits(text.AsSpan(0, text.Length - 1), 10, LiteralNotation.Decimal);
        }
        // '00011111b' under hexadecimal: nine hexadecimal digits, but hardly meant so.
        else if (last is 'b' or 'B' && text.Length >= 6 && AreDigits(text.AsSpan(0, text.Length - 1), 2))
        {
            return Digits(text, 16, LiteralNotation.Bare) with { IsAmbiguous = true };
        }

        if (last is 'o' or 'O' or 'q' or 'Q')
            return Digits(text.AsSpan(0, text.Length - 1), 8, LiteralNotation.Octal);
        return Digits(text, radix, LiteralNotation.Bare);
    }

    /// <summary>The name of a base for people: "hexadecimal", "decimal", "octal" or "binary".</summary>
    public static string NameOf(int radix) =>
        radix switch
        {
            16 => "hexadecimal",
            10 => "decimal",
            8 => "octal",
            2 => "binary",
            _ => "character",
        };

    /// <summary>
    /// Reads the inside of quotes into characters, with the escapes of listings (<c>\r \n \t \\ \' \" \0 \xHH</c>).
    /// </summary>
    public static List<char> Unescape(ReadOnlySpan<char> inside)
    {
        var found = new List<char>(inside.Length);
        for (int i = 0; i < inside.Length; i++)
        {
            if (inside[i] != '\\' || i + 1 == inside.Length)
            {
                found.Add(inside[i]);
                continue;
            }

            char c = inside[++i];
            switch (c)
            {
                case 'r':
                    found.Add('\r');
                    break;
                case 'n':
                    found.Add('\n');
                    break;
                case 't':
                    found.Add('\t');
                    break;
                case 'a':
                    found.Add('\a');
                    break;
                case 'b':
                    found.Add('\b');
                    break;
                case 'f':
                    found.Add('\f');
                    break;
                case 'v':
                    found.Add('\v');
                    break;
                case '\\' or '\'' or '"':
                    found.Add(c);
                    break;
                case 'x' or 'X' when Hex(inside, i + 1, out int digits, out int value):
                    found.Add((char)value);
                    i += digits;
                    break;
                case >= '0' and <= '7':
                    int octal = c - '0';
                    for (int more = 0; more < 2 && i + 1 < inside.Length && inside[i + 1] is >= '0' and <= '7'; more++)
                        octal = octal * 8 + (inside[++i] - '0');
                    found.Add((char)(octal & 0xFF));
                    break;
                default:
                    found.Add('\\');
                    found.Add(c);
                    break;
            }
        }

        return found;
    }

    private static bool Hex(ReadOnlySpan<char> text, int at, out int digits, out int value)
    {
        digits = 0;
        while (digits < 2 && at + digits < text.Length && char.IsAsciiHexDigit(text[at + digits]))
            digits++;
        value =
            digits > 0 ? int.Parse(text.Slice(at, digits), NumberStyles.HexNumber, CultureInfo.InvariantCulture) : 0;
        return digits > 0;
    }

    // '0b' is binary notation; where the radix is hexadecimal it could also be the hexadecimal digits 0 and b. Eight
    // binary digits or more are meant as binary, fewer as hexadecimal; both are reported.
    private static LiteralReading ZeroB(string text, int radix)
    {
        if (radix < 16)
            return Digits(text.AsSpan(2), 2, LiteralNotation.Binary);
        LiteralReading reading =
            text.Length >= 10
                ? Digits(text.AsSpan(2), 2, LiteralNotation.Binary)
                : Digits(text, 16, LiteralNotation.Bare);
        return reading with { IsAmbiguous = true };
    }

    private static LiteralReading Quoted(string text)
    {
        (int radix, LiteralNotation notation) = char.ToLowerInvariant(text[0]) switch
        {
            'h' or 'x' => (16, LiteralNotation.Hexadecimal),
            'd' => (10, LiteralNotation.Decimal),
            'b' => (2, LiteralNotation.Binary),
            'o' or 'q' => (8, LiteralNotation.Octal),
            _ => (0, LiteralNotation.Character),
        };
        if (radix == 0)
            return Character(text[1..]);
        bool closed = text.Length > 2 && text[^1] == '\'';
        ReadOnlySpan<char> inside = text.AsSpan(2, text.Length - (closed ? 3 : 2));
        bool negative = inside.Length > 0 && inside[0] == '-';
        if (inside.Length > 0 && inside[0] is '-' or '+')
            inside = inside[1..];
        LiteralReading reading = Digits(inside, radix, notation);
        if (negative)
            reading = reading with { Value = -reading.Value };
        return closed || reading.Fault != LiteralFault.None ? reading : reading with { Fault = LiteralFault.Unclosed };
    }

    private static LiteralReading Character(string text)
    {
        bool closed = text.Length > 1 && text[^1] == '\'';
        List<char> inside = Unescape(text.AsSpan(1, text.Length - (closed ? 2 : 1)));
        if (inside.Count == 0)
            return new(0, LiteralNotation.Character, 0, LiteralFault.NoDigit);
        if (inside.Count > 1)
            return new(inside[0], LiteralNotation.Character, 0, LiteralFault.TooLong);
        return new(inside[0], LiteralNotation.Character, 0, closed ? LiteralFault.None : LiteralFault.Unclosed);
    }

    private static bool AreDigits(ReadOnlySpan<char> digits, int radix)
    {
        foreach (char c in digits)
            if (DigitValue(c) >= radix)
                return false;
        return true;
    }

    private static LiteralReading Digits(ReadOnlySpan<char> digits, int radix, LiteralNotation notation)
    {
        if (digits.IsEmpty)
            return new(0, notation, radix, LiteralFault.NoDigit);
        long value = 0;
        bool tooLarge = false;
        foreach (char c in digits)
        {
            int digit = DigitValue(c);
            if (digit >= radix)
                return new(0, notation, radix, LiteralFault.BadDigit, c);
            value = value * radix + digit;
            if (value > uint.MaxValue)
            {
                tooLarge = true;
                value &= uint.MaxValue;
            }
        }

        return new(unchecked((int)value), notation, radix, tooLarge ? LiteralFault.TooLarge : LiteralFault.None);
    }

    private static int DigitValue(char c) =>
        c switch
        {
            >= '0' and <= '9' => c - '0',
            >= 'a' and <= 'f' => c - 'a' + 10,
            >= 'A' and <= 'F' => c - 'A' + 10,
            _ => int.MaxValue,
        };
}
