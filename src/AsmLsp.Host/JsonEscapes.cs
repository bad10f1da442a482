namespace AsmLsp.Host;

/// <summary>
/// JSON may write half of a pair of surrogates as an escape (RFC 8259, section 8.2), and editors do so while a person deletes one character of two. No text
/// can hold it: what means the half becomes the replacement character, which is as long.
/// </summary>
public static class JsonEscapes
{
    /// <summary>Replaces escapes of lone surrogates in a JSON text.</summary>
    public static void ReplaceLoneSurrogates(Span<byte> json)
    {
        for (int at = 0; ; )
        {
            int found = json[at..].IndexOf((byte)'\\');
            if (found < 0)
                return;
            at += found;
            if (!Escaped(json, at, out int unit) || unit is < 0xD800 or > 0xDFFF)
            {
                at = Math.Min(json.Length, at + 2);
                continue;
            }

            if (unit < 0xDC00 && Escaped(json, at + 6, out int second) && second is >= 0xDC00 and <= 0xDFFF)
            {
                at += 12;
                continue;
            }

            "FFFD"u8.CopyTo(json[(at + 2)..]);
            at += 6;
        }
    }

    private static bool Escaped(ReadOnlySpan<byte> json, int at, out int unit)
    {
        unit = 0;
        if (at + 6 > json.Length || json[at] != '\\' || json[at + 1] != 'u')
            return false;
        foreach (byte digit in json.Slice(at + 2, 4))
        {
            if (!char.IsAsciiHexDigit((char)digit))
                return false;
            unit = unit << 4 | Convert.ToInt32(((char)digit).ToString(), 16);
        }

        return true;
    }
}
