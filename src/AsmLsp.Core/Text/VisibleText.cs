using System.Globalization;
using System.Text;

namespace AsmLsp.Core.Text;

/// <summary>
/// Text of sources, documents and file names as it may be shown to a person. Characters that command a terminal (ISO/IEC 6429), that turn the order of
/// a line around (Unicode Standard Annex 9) or that are no characters at all are shown by their numbers, so that what is seen is what is there.
/// </summary>
public static class VisibleText
{
    /// <summary>Whether a character does something else than being seen. Tabs and line feeds are harmless.</summary>
    public static bool IsHidden(char c) =>
        c < ' '
            ? c is not ('\t' or '\n')
            : c >= '\u007F'
                && (
                    c
                    is <= '\u009F'
                        or '\u061C'
                        or '\u200E'
                        or '\u200F'
                        or (>= '\u2028' and <= '\u202E')
                        or (>= '\u2066' and <= '\u2069')
                        or '\uFFFE'
                        or '\uFFFF'
                );

    /// <summary>The text with its hidden characters shown by their numbers, such as <c>⟨U+001B⟩</c>; a carriage return in front of a line feed stays.</summary>
    public static string Of(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        int first = FirstHidden(text, 0);
        if (first < 0)
            return text;
        var shown = new StringBuilder(text.Length + 32);
        int from = 0;
        for (int at = first; at >= 0; at = FirstHidden(text, from))
        {
            shown.Append(text, from, at - from).Append(Number(text[at]));
            from = at + 1;
        }

        return shown.Append(text, from, text.Length - from).ToString();
    }

    /// <summary>A JSON text with the hidden characters in its strings written as escapes (RFC 8259, section 7), which means the same.</summary>
    public static string InJson(string json)
    {
        ArgumentNullException.ThrowIfNull(json);
        if (FirstHidden(json, 0) < 0)
            return json;
        var safe = new StringBuilder(json.Length + 32);
        foreach (char c in json)
            if (c > '\u007E' && IsHidden(c))
                safe.Append(CultureInfo.InvariantCulture, $"\\u{(int)c:X4}");
            else
                safe.Append(c);
        return safe.ToString();
    }

    /// <summary>How a character that cannot be seen is shown.</summary>
    public static string Number(char c) => string.Create(CultureInfo.InvariantCulture, $"\u27E8U+{(int)c:X4}\u27E9");

    private static int FirstHidden(string text, int from)
    {
        for (int i = from; i < text.Length; i++)
        {
            char c = text[i];
            if (c is >= ' ' and < '\u007F')
                continue;
            if (c == '\r' && i + 1 < text.Length && text[i + 1] == '\n')
                continue;
            if (char.IsHighSurrogate(c) && i + 1 < text.Length && char.IsLowSurrogate(text[i + 1]))
            {
                i++;
                continue;
            }

            if (IsHidden(c) || char.IsSurrogate(c))
                return i;
        }

        return -1;
    }
}
