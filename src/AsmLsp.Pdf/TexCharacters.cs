namespace AsmLsp.Pdf;

/// <summary>
/// What the codes of TeX's text fonts mean. Letters, digits and most signs are where ASCII has them; some signs do not
/// (LaTeX font encodings guide, encguide.pdf, tables T1 and OT1; the tables are from memory).
/// </summary>
internal static class TexCharacters
{
    private const string UpperT1 =
        "\u0102\u0104\u0106\u010C\u010E\u011A\u0118\u011E\u0139\u013D\u0141\u0143\u0147\u014A\u0150\u0154"
        + "\u0158\u015A\u0160\u015E\u0164\u0162\u016E\u0170\u0178\u0179\u017D\u017B\u0132\u0130\u0111\u00A7"
        + "\u0103\u0105\u0107\u010D\u010F\u011B\u0119\u011F\u013A\u013E\u0142\u0144\u0148\u014B\u0151\u0155"
        + "\u0159\u015B\u0161\u015F\u0165\u0163\u016F\u0171\u00FF\u017A\u017E\u017C\u0133\u00A1\u00BF\u00A3"
        + "\u00C0\u00C1\u00C2\u00C3\u00C4\u00C5\u00C6\u00C7\u00C8\u00C9\u00CA\u00CB\u00CC\u00CD\u00CE\u00CF"
        + "\u00D0\u00D1\u00D2\u00D3\u00D4\u00D5\u00D6\u0152\u00D8\u00D9\u00DA\u00DB\u00DC\u00DD\u00DE\u1E9E"
        + "\u00E0\u00E1\u00E2\u00E3\u00E4\u00E5\u00E6\u00E7\u00E8\u00E9\u00EA\u00EB\u00EC\u00ED\u00EE\u00EF"
        + "\u00F0\u00F1\u00F2\u00F3\u00F4\u00F5\u00F6\u0153\u00F8\u00F9\u00FA\u00FB\u00FC\u00FD\u00FE\u00DF";

    // Where both tables, and the italics of either, show the same sign, or one that reads alike.
    private const string Common = "!\"#%&'()*+,-./:;=?@[]`";

    /// <summary>A letter, a digit, or a sign that is the same in each of the tables; null for other codes.</summary>
    public static string? InAll(int code) =>
        code is > 0x20 and < 0x7F
        && (char.IsAsciiLetterOrDigit((char)code) || Common.Contains((char)code, StringComparison.Ordinal))
            ? ((char)code).ToString()
            : null;

    /// <summary>A character of a font whose letters are equally wide: there the signs are those of ASCII in both tables.</summary>
    public static string? InMonospaced(int code) =>
        code switch
        {
            > 0x20 and < 0x7F => ((char)code).ToString(),
            0x0D => "'", // The upright quote of OT1; programs that are set in T1 take none from here.
            0x12 => "`",
            _ => null,
        };

    /// <summary>A character of the table T1.</summary>
    public static string? InT1(int code) =>
        code switch
        {
            0x10 => "\u201C",
            0x11 => "\u201D",
            0x12 => "\u201E",
            0x13 => "\u00AB",
            0x14 => "\u00BB",
            0x15 => "\u2013",
            0x16 => "\u2014",
            0x19 => "\u0131",
            0x1B => "ff",
            0x1C => "fi",
            0x1D => "fl",
            0x1E => "ffi",
            0x1F => "ffl",
            > 0x20 and < 0x7F => ((char)code).ToString(),
            >= 0x80 and <= 0xFF => UpperT1[code - 0x80].ToString(),
            _ => null,
        };

    /// <summary>A character of the table OT1, in a font of letters of several widths.</summary>
    public static string? InOT1(int code) =>
        code switch
        {
            0x0B => "ff",
            0x0C => "fi",
            0x0D => "fl",
            0x0E => "ffi",
            0x0F => "ffl",
            0x10 => "\u0131",
            0x19 => "\u00DF",
            0x1A => "\u00E6",
            0x1B => "\u0153",
            0x1C => "\u00F8",
            0x3C => "\u00A1",
            0x3E => "\u00BF",
            0x5C => "\u201C",
            0x7B => "\u2013",
            0x7C => "\u2014",
            _ => InAll(code),
        };
}
