using System.Text;

namespace AsmLsp.Core.Text;

/// <summary>How a client counts columns: in bytes of UTF-8, code units of UTF-16, or characters (UTF-32).</summary>
public enum ColumnEncoding
{
    /// <summary>UTF-16 code units, as the texts here count.</summary>
    Utf16,

    /// <summary>Bytes of the UTF-8 form.</summary>
    Utf8,

    /// <summary>Unicode characters.</summary>
    Utf32,
}

/// <summary>Translates columns of one line between the ways of counting.</summary>
public static class Columns
{
    /// <summary>The client's column for a UTF-16 column of a line; a column after the end is taken as the end.</summary>
    public static int ToClient(string line, int column, ColumnEncoding encoding)
    {
        ArgumentNullException.ThrowIfNull(line);
        column = Math.Clamp(column, 0, line.Length);
        if (encoding == ColumnEncoding.Utf16)
            return column;
        int count = 0;
        for (int i = 0; i < column; )
        {
            int units = Width(line, i, encoding, out int width);
            count += width;
            i += units;
        }

        return count;
    }

    /// <summary>The UTF-16 column for a client's column of a line; a column inside a character is moved to its start.</summary>
    public static int FromClient(string line, int column, ColumnEncoding encoding)
    {
        ArgumentNullException.ThrowIfNull(line);
        if (column <= 0)
            return 0;
        if (encoding == ColumnEncoding.Utf16)
            return Math.Min(column, line.Length);
        int count = 0;
        for (int i = 0; i < line.Length; )
        {
            int units = Width(line, i, encoding, out int width);
            if (count + width > column)
                return i;
            count += width;
            i += units;
        }

        return line.Length;
    }

    private static int Width(string line, int at, ColumnEncoding encoding, out int width)
    {
        // A lone surrogate counts like the replacement character (three bytes) that a client receives for it.
        if (!Rune.TryGetRuneAt(line, at, out Rune rune))
            rune = Rune.ReplacementChar;
        width = encoding == ColumnEncoding.Utf8 ? rune.Utf8SequenceLength : 1;
        return rune.Value > 0xFFFF ? 2 : 1;
    }
}
