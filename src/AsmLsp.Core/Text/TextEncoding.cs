using System.Text;

namespace AsmLsp.Core.Text;

/// <summary>
/// How the bytes of a file mean characters, both ways without loss. A file that is not UTF-8 is read byte by
/// byte after Windows-1252; its five unused bytes become the control characters of the same number, so that
/// every byte comes back as it was.
/// </summary>
public sealed class TextEncoding
{
    // Source: the WHATWG Encoding Standard's index of windows-1252, bytes 0x80 to 0x9F.
    private const string Windows1252High =
        "\u20AC\u0081\u201A\u0192\u201E\u2026\u2020\u2021\u02C6\u2030\u0160\u2039\u0152\u008D\u017D\u008F"
        + "\u0090\u2018\u2019\u201C\u201D\u2022\u2013\u2014\u02DC\u2122\u0161\u203A\u0153\u009D\u017E\u0178";

    private readonly Encoding? unicode;

    private TextEncoding(string name, Encoding? unicode, bool hasMark) =>
        (Name, this.unicode, HasMark) = (name, unicode, hasMark);

    /// <summary>UTF-8 without a byte order mark.</summary>
    public static TextEncoding Utf8 { get; } = new("UTF-8", new UTF8Encoding(false, true), false);

    /// <summary>UTF-8 with a byte order mark.</summary>
    public static TextEncoding Utf8Marked { get; } =
        new("UTF-8 with a byte order mark", new UTF8Encoding(true, true), true);

    /// <summary>UTF-16, low byte first, with its byte order mark.</summary>
    public static TextEncoding Utf16 { get; } = new("UTF-16", new UnicodeEncoding(false, true, true), true);

    /// <summary>UTF-16, high byte first, with its byte order mark.</summary>
    public static TextEncoding Utf16BigEndian { get; } =
        new("UTF-16, high byte first", new UnicodeEncoding(true, true, true), true);

    /// <summary>UTF-16, low byte first, without a mark.</summary>
    public static TextEncoding Utf16Unmarked { get; } =
        new("UTF-16 without a byte order mark", new UnicodeEncoding(false, false, true), false);

    /// <summary>UTF-16, high byte first, without a mark.</summary>
    public static TextEncoding Utf16BigEndianUnmarked { get; } =
        new("UTF-16, high byte first, without a byte order mark", new UnicodeEncoding(true, false, true), false);

    /// <summary>One byte a character, after Windows-1252.</summary>
    public static TextEncoding Windows1252 { get; } = new("Windows-1252", null, false);

    /// <summary>The encoding's name for people.</summary>
    public string Name { get; }

    /// <summary>Whether the file starts with a byte order mark.</summary>
    public bool HasMark { get; }

    /// <summary>Reads a file's bytes: by its byte order mark, else as UTF-8, else after Windows-1252.</summary>
    public static (string Text, TextEncoding Encoding) Decode(ReadOnlySpan<byte> bytes)
    {
        foreach (TextEncoding marked in (TextEncoding[])[Utf8Marked, Utf16, Utf16BigEndian])
        {
            if (!bytes.StartsWith(marked.unicode!.Preamble))
                continue;
            try
            {
                return (marked.unicode.GetString(bytes[marked.unicode.Preamble.Length..]), marked);
            }
            catch (DecoderFallbackException)
            {
                // The mark was no mark: read byte by byte below.
            }
        }

        if (UnmarkedOf(bytes) is { } unmarked)
        {
            try
            {
                return (unmarked.unicode!.GetString(bytes), unmarked);
            }
            catch (DecoderFallbackException)
            {
                // Zeros by chance.
            }
        }

        try
        {
            return (Utf8.unicode!.GetString(bytes), Utf8);
        }
        catch (DecoderFallbackException)
        {
            return (
                string.Create(
                    bytes.Length,
                    bytes,
                    static (text, from) =>
                    {
                        for (int i = 0; i < from.Length; i++)
                            text[i] = ToWindows1252(from[i]);
                    }
                ),
                Windows1252
            );
        }
    }

    // Every other byte of a Latin text in UTF-16 is zero; no text in another encoding has zeros.
    private static TextEncoding? UnmarkedOf(ReadOnlySpan<byte> bytes)
    {
        const int most = 4096;
        const int leastPairs = 4;
        if (bytes.Length % 2 != 0 || bytes.Length < 2 * leastPairs)
            return null;
        ReadOnlySpan<byte> start = bytes[..Math.Min(bytes.Length, most)];
        int low = 0,
            high = 0;
        for (int i = 0; i < start.Length; i += 2)
        {
            if (start[i + 1] == 0 && start[i] != 0)
                low++;
            else if (start[i] == 0 && start[i + 1] != 0)
                high++;
        }

        int pairs = start.Length / 2;
        return low * 10 >= pairs * 9 ? Utf16Unmarked
            : high * 10 >= pairs * 9 ? Utf16BigEndianUnmarked
            : null;
    }

    /// <summary>The bytes of a text, with the byte order mark that the encoding has.</summary>
    /// <exception cref="EncoderFallbackException">
    /// Windows-1252 has no byte for a character; such a text is to be written as UTF-8 (see <see cref="CanWrite"/>).
    /// </exception>
    public byte[] GetBytes(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        if (unicode is not null)
            return [.. unicode.Preamble, .. unicode.GetBytes(text)];
        var bytes = new byte[text.Length];
        for (int i = 0; i < text.Length; i++)
            bytes[i] =
                ToByte(text[i]) ?? throw new EncoderFallbackException($"Windows-1252 has no byte for '{text[i]}'.");
        return bytes;
    }

    /// <summary>Whether every character of a text can be written.</summary>
    public bool CanWrite(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        if (unicode is not null)
        {
            try
            {
                _ = unicode.GetByteCount(text);
                return true;
            }
            catch (EncoderFallbackException)
            {
                return false;
            }
        }

        foreach (char c in text)
            if (ToByte(c) is null)
                return false;
        return true;
    }

    /// <summary>
    /// The one byte that means a character in a byte-wise file, or null where there is none. In a Unicode file,
    /// the Windows-1252 byte is meant: the chip's text is bytes, and that page is what such listings were written with.
    /// </summary>
    public static byte? ToByte(char c)
    {
        if (c < 0x80 || c is >= '\u00A0' and <= '\u00FF')
            return (byte)c;
        int at = Windows1252High.IndexOf(c, StringComparison.Ordinal);
        return at >= 0 ? (byte)(0x80 + at) : null;
    }

    private static char ToWindows1252(byte b) => b is >= 0x80 and < 0xA0 ? Windows1252High[b - 0x80] : (char)b;
}
