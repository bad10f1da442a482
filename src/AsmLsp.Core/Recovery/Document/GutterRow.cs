using System.Globalization;

namespace AsmLsp.Core.Recovery.Document;

/// <summary>A number in front of a line, as it is printed.</summary>
/// <param name="Start">Its column.</param>
/// <param name="End">The column behind it, and behind a colon or point at its end.</param>
/// <param name="Digits">How many digits it has.</param>
/// <param name="Value">Its value in decimal, or -1.</param>
/// <param name="Hex">Its value in hexadecimal, or -1 where it is too large.</param>
internal readonly record struct GutterCell(int Start, int End, int Digits, int Value, int Hex)
{
    /// <summary>Whether it could be a line number.</summary>
    public bool IsDecimal => Value >= 0 && Digits <= 6;

    /// <summary>Whether it could be an address of the program memory; a listing prints three digits or more.</summary>
    public bool IsAddress => Digits is >= 3 and <= 6 && Hex is >= 0 and <= 0xFFFF;

    /// <summary>Whether it could be a word of 14 bits.</summary>
    public bool IsWord => Digits == 4 && Hex is >= 0 and <= 0x3FFF;

    /// <summary>Whether it could be a value of 32 bits, as listings print it beside a name that gets one.</summary>
    public bool IsValue => Digits == 8;
}

/// <summary>The numbers that a printed line begins with.</summary>
internal sealed class GutterRow
{
    private const int MostCells = 12;

    public GutterRow(int line, string text)
    {
        (Line, Text) = (line, text);
        int at = 0;
        while (true)
        {
            while (at < text.Length && IsBlank(text[at]))
                at++;
            int end = at;
            while (end < text.Length && !IsBlank(text[end]))
                end++;
            if (
                at == text.Length
                || Cells.Count == MostCells
                || !LeftGutter.IsNumber(text.AsSpan(at, end - at), out int value, out bool isDecimal)
            )
                break;
            int digits = end - at - (char.IsAsciiHexDigit(text[end - 1]) ? 0 : 1);
            int hex =
                digits <= 8
                && uint.TryParse(
                    text.AsSpan(at, digits),
                    NumberStyles.AllowHexSpecifier,
                    CultureInfo.InvariantCulture,
                    out uint h
                )
                && h <= int.MaxValue
                    ? (int)h
                    : -1;
            Cells.Add(new GutterCell(at, end, digits, isDecimal ? value : -1, hex));
            at = end;
        }

        TextStart = at < text.Length ? at : -1;
    }

    /// <summary>The place among the lines of the listing.</summary>
    public int Line { get; }

    public string Text { get; }

    /// <summary>The numbers, from the left.</summary>
    public List<GutterCell> Cells { get; } = [];

    /// <summary>The column of the first character that is no number's, or -1 where there is none.</summary>
    public int TextStart { get; }

    public bool IsEmpty => Cells.Count == 0 && TextStart < 0;

    public static bool IsBlank(char c) => c is ' ' or '\t' or '\u00A0';
}

/// <summary>What the numbers of one row are.</summary>
internal sealed class GutterReading
{
    /// <summary>The line number, or -1.</summary>
    public int Number { get; set; } = -1;

    /// <summary>The address, or -1.</summary>
    public int Address { get; set; } = -1;

    /// <summary>The words behind the address.</summary>
    public List<int> Words { get; } = [];

    /// <summary>Whether a value stands there that is no word.</summary>
    public bool HasValue { get; set; }

    /// <summary>How many of the row's numbers belong to the gutter.</summary>
    public int Taken { get; set; }
}
