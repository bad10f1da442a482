using System.Text;

namespace AsmLsp.Core.Printed;

/// <summary>
/// Characters that a text recognition gives though no program has them: in front of a comment they can only be others. Each
/// that is not beyond doubt is made unsure, so that its line is looked at.
/// </summary>
internal static class CodeCharacters
{
    private const float Unsure = 0.5f,
        Sure = 0.95f;

    /// <summary>Replaces them, one for one.</summary>
    public static void Normalize(StringBuilder text, List<float> confidences)
    {
        bool open = false;
        for (int i = 0; i < text.Length; i++)
        {
            char c = text[i];
            if (c == ';')
                return;
            char put = c switch
            {
                '\u00A3' or '\u20AC' => 'f',
                '\u2018' or '\u2019' or '\u00B4' or '`' => '\'',
                '\u201C' or '\u201D' => '"',
                '\u2014' or '\u2013' => '_',
                '\u00A9' or '\u00AE' or '@' => '0',
                '\u00E9' => 'e',
                // The quote after the digits of a number.
                // The same quote once more.
                '!' or '\u00B0' when !open && i > 1 && text[i - 1] == '\'' && char.IsAsciiHexDigit(text[i - 2]) => ' ',
                '!'
                or '\u00B0'
                or '"'
                or '*' when open && i > 0 && char.IsAsciiHexDigit(text[i - 1]) && EndsHere(text, i) => '\'',
                _ => c,
            };
            if (put == '\'')
                open = !open;
            if (put == c)
                continue;
            text[i] = put;
            // A pound sign is never anything else than an f here, and a bent quote is a quote.
            confidences[i] =
                put == 'f' ? Math.Max(confidences[i], Sure)
                : put == '\'' && c is not ('"' or '*') ? confidences[i]
                : Math.Min(confidences[i], Unsure);
        }
    }

    private static bool EndsHere(StringBuilder text, int at)
    {
        for (int i = at + 1; i < text.Length && text[i] != ';'; i++)
            if (text[i] == '\'')
                return false;
        return true;
    }
}
