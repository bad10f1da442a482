namespace AsmLsp.Core.Recovery.Audit;

/// <summary>
/// Characters as the language writes them. Typesetting has other shapes for some of them; whoever replaces one shape by the
/// other has changed nothing that counts.
/// </summary>
internal static class PlainSigns
{
    /// <summary>The text with each character of typesetting replaced by the plain one. The length stays the same.</summary>
    public static string Of(string text)
    {
        int at = 0;
        while (at < text.Length && Of(text[at]) == text[at])
            at++;
        if (at == text.Length)
            return text;
        return string.Create(
            text.Length,
            text,
            static (plain, source) =>
            {
                for (int i = 0; i < source.Length; i++)
                    plain[i] = Of(source[i]);
            }
        );
    }

    private static char Of(char c) =>
        c < 0x80
            ? c == '\t' || c == '\f'
                ? ' '
                : c
            : c switch
            {
                '\u00A0' or '\u2002' or '\u2003' or '\u2007' or '\u2009' or '\u200A' or '\u202F' or '\u3000' => ' ',
                '\u2018' or '\u2019' or '\u201A' or '\u201B' or '\u00B4' or '\u02B9' or '\u02BC' or '\u2032' => '\'',
                '\u201C' or '\u201D' or '\u201E' or '\u201F' or '\u2033' or '\u00AB' or '\u00BB' => '"',
                '\u2010' or '\u2011' or '\u2012' or '\u2013' or '\u2014' or '\u2212' => '-',
                '\u02DC' or '\u223C' => '~',
                '\u037E' or '\uFF1B' => ';',
                '\u2217' or '\u00D7' => '*',
                '\u2044' or '\u2215' => '/',
                '\u2039' => '<',
                '\u203A' => '>',
                '\u02C6' => '^',
                '\u00A6' => '|',
                '\uFF0C' => ',',
                _ => c,
            };
}
