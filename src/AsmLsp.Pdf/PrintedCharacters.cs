namespace AsmLsp.Pdf;

/// <summary>
/// What characters are on paper, whatever the file calls them: blanks of every kind are room, a joined shape is the letters
/// that it joins, and a hyphen that is drawn is a hyphen, though shapes that serve for two carry the name of the soft one. Inside a text in quotes
/// nobody could say them apart later.
/// </summary>
internal static class PrintedCharacters
{
    // U+FB00 to U+FB06 (Unicode, Alphabetic Presentation Forms).
    private static readonly string[] Joined = ["ff", "fi", "fl", "ffi", "ffl", "st", "st"];

    public static string Of(string text)
    {
        if (text.Length != 1 || text[0] < '\u00A0')
            return text;
        return text[0] switch
        {
            '\u00A0' or (>= '\u2000' and <= '\u200A') or '\u202F' or '\u205F' or '\u3000' => " ",
            '\u00AD' => "-",
            >= '\uFB00' and <= '\uFB06' => Joined[text[0] - '\uFB00'],
            _ => text,
        };
    }
}
