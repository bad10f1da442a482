using System.Text;

namespace AsmLsp.Pdf;

/// <summary>
/// Looks at the dictionaries of cross-reference streams (ISO 32000-1, 7.5.8) before the PDF library does: it sets aside what they speak of, however
/// little the file holds.
/// </summary>
internal static class CrossReferences
{
    // The numbers of one array add up to no more than this many times the largest that is allowed.
    private const double MostTogether = 4.0;

    // Eight million objects are the most that a reader must take (ISO 32000-1, annex C); no printed program has a tenth of it.
    private const long MostObjects = 1_000_000,
        WidestField = 8;

    private const int MostDictionary = 16 * 1024;

    /// <summary>Whether a file has such a dictionary with numbers out of all proportion.</summary>
    public static bool AreOutOfProportion(ReadOnlySpan<byte> file)
    {
        ReadOnlySpan<byte> mark = "stream"u8;
        for (int at = 0; file[at..].IndexOf(mark) is >= 0 and var found; )
        {
            int end = at + found;
            at = end + mark.Length;
            ReadOnlySpan<byte> before = file[Math.Max(0, end - MostDictionary)..end];
            int start = before.LastIndexOf("obj"u8);
            ReadOnlySpan<byte> dictionary = start < 0 ? before : before[start..];
            // Anything in a name may be written by its number: '/X#52ef' is '/XRef'.
            if (dictionary.IndexOf("XRef"u8) < 0 && dictionary.IndexOf((byte)'#') < 0)
                continue;
            string text = Unescaped(dictionary);
            if (
                text.Contains("/XRef", StringComparison.Ordinal)
                && (
                    HasAbove(text, "/W", WidestField)
                    || HasAbove(text, "/Index", MostObjects)
                    || HasAbove(text, "/Size", MostObjects)
                )
            )
                return true;
        }

        return false;
    }

    // Whether a number after a name, or in the array after it, is greater than a bound, or all of them together are.
    private static bool HasAbove(string text, string name, long most)
    {
        for (
            int at = text.IndexOf(name, StringComparison.Ordinal);
            at >= 0;
            at = text.IndexOf(name, at + 1, StringComparison.Ordinal)
        )
        {
            int i = at + name.Length;
            if (i < text.Length && char.IsAsciiLetterOrDigit(text[i]))
                continue;
            while (i < text.Length && (char.IsWhiteSpace(text[i]) || text[i] == '\0'))
                i++;
            bool isArray = i < text.Length && text[i] == '[';
            int end = isArray ? text.IndexOf(']', i) : i;
            if (!isArray)
                while (end < text.Length && (char.IsAsciiDigit(text[end]) || text[end] is '+' or '.'))
                    end++;
            if (end < 0)
                end = text.Length;
            double sum = 0;
            foreach (
                string part in text[i..end]
                    .Split([' ', '\t', '\r', '\n', '\f', '\0', '[', ']'], StringSplitOptions.RemoveEmptyEntries)
            )
            {
                if (
                    !double.TryParse(part, System.Globalization.CultureInfo.InvariantCulture, out double number)
                    || number < 0
                    || number > most
                )
                    return true;
                sum += number;
            }

            if (sum > MostTogether * most)
                return true;
        }

        return false;
    }

    private static string Unescaped(ReadOnlySpan<byte> dictionary)
    {
        string text = Encoding.Latin1.GetString(dictionary);
        if (!text.Contains('#', StringComparison.Ordinal))
            return text;
        var plain = new StringBuilder(text.Length);
        for (int i = 0; i < text.Length; i++)
        {
            if (
                text[i] == '#'
                && i + 2 < text.Length
                && char.IsAsciiHexDigit(text[i + 1])
                && char.IsAsciiHexDigit(text[i + 2])
            )
            {
                plain.Append((char)Convert.ToInt32(text.Substring(i + 1, 2), 16));
                i += 2;
            }
            else
            {
                plain.Append(text[i]);
            }
        }

        return plain.ToString();
    }
}
