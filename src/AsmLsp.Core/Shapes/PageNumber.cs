using System.Globalization;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Shapes;

/// <summary>Recognizes numbers of pages: a line that is one and nothing else, and a word of a line that can be one.</summary>
internal static class PageNumber
{
    // A printed document of more than 9,999 pages holds no listing.
    private const int MostDigits = 4;

    // What is printed around the number of a page, or of a row: "- 12 -", "[12]", "12."
    private const string Ornaments = "-\u2013\u2014|.:,[]()";

    /// <summary>The words of a line, with the stroke of <c>2/7</c> as a word of its own.</summary>
    public static string[] Words(string text) =>
        text.Replace("/", " / ", StringComparison.Ordinal)
            .Split((char[])[' ', '\t', '\u00A0'], StringSplitOptions.RemoveEmptyEntries);

    /// <summary>Whether a word is a number of at most four digits, its ornaments aside.</summary>
    public static bool TryNumber(string word, out int number)
    {
        number = 0;
        ReadOnlySpan<char> digits = word.AsSpan().Trim(Ornaments);
        return digits.Length is > 0 and <= MostDigits
            && int.TryParse(digits, NumberStyles.None, CultureInfo.InvariantCulture, out number);
    }

    /// <summary>Whether a word means a page, its ornaments aside: <c>Page:</c>.</summary>
    public static bool IsWord(string word) => PageWords.IsPage(word.AsSpan().Trim(Ornaments));

    /// <summary>
    /// Whether a text is a page number: '12', '- 12 -', 'Page 12', '12 / 30', 'Page 12 of 30'. It is explicit where
    /// a word says so.
    /// </summary>
    public static bool TryRead(ReadOnlySpan<char> text, out int number, out bool isExplicit)
    {
        (number, isExplicit) = (-1, false);
        if (text.Length is 0 or > 40)
            return false;
        int at = 0,
            numbers = 0,
            words = 0;
        bool decorated = false,
            slash = false;
        while (at < text.Length)
        {
            char c = text[at];
            if (char.IsAsciiDigit(c))
            {
                int start = at;
                while (at < text.Length && char.IsAsciiDigit(text[at]))
                    at++;
                if (at - start > MostDigits || numbers == 2)
                    return false;
                if (numbers++ == 0)
                    number = int.Parse(text[start..at], CultureInfo.InvariantCulture);
            }
            else if (char.IsLetter(c))
            {
                int start = at;
                while (at < text.Length && char.IsLetter(text[at]))
                    at++;
                bool known = numbers == 0 ? PageWords.IsPage(text[start..at]) : PageWords.IsBetween(text[start..at]);
                if (!known || (numbers == 0 && words > 0))
                    return false;
                words++;
            }
            else if (Lexer.IsBlank(c) || c is '.' or ':')
            {
                at++;
            }
            else if (
                c is '-' or '\u2013' or '\u2014' or '/' or '[' or ']' or '(' or ')' or '|' or '*' or '~' or '\u2022'
            )
            {
                decorated = true;
                slash |= c == '/';
                at++;
            }
            else
            {
                return false;
            }
        }

        isExplicit = words > 0;
        if (numbers == 0 || (numbers == 2 && words == 0 && !slash))
            return false;
        // '-5' or '3*' alone is a piece of an expression; digits alone, or signs on both sides, can be a page's.
        return words > 0 || slash || !decorated || (!char.IsAsciiDigit(text[0]) && !char.IsAsciiDigit(text[^1]));
    }

    /// <summary>
    /// Whether a text is a page number as books have them before and after their chapters: <c>xii</c>, <c>3-17</c>, <c>A-4</c>, <c>[5]</c>.
    /// </summary>
    public static bool IsOfBook(string text)
    {
        ReadOnlySpan<char> number = text.AsSpan().Trim().Trim("-\u2013\u2014[]()|. ");
        int dash = number.IndexOfAny('-', '\u2013', '.');
        if (dash > 0)
            return IsDigits(number[(dash + 1)..])
                && (IsDigits(number[..dash]) || (dash == 1 && char.IsAsciiLetterUpper(number[0])));
        return IsDigits(number) || IsRoman(number);
    }

    private static bool IsDigits(ReadOnlySpan<char> text) =>
        text.Length is > 0 and <= MostDigits && text.IndexOfAnyExceptInRange('0', '9') < 0;

    // One letter alone is a name as well.
    private static bool IsRoman(ReadOnlySpan<char> text)
    {
        if (text.Length is < 2 or > 8 || text.IndexOfAnyExcept("ivxlc") >= 0 && text.IndexOfAnyExcept("IVXLC") >= 0)
            return false;
        int value = 0,
            largest = 0;
        for (int i = text.Length - 1; i >= 0; i--)
        {
            int digit = char.ToLowerInvariant(text[i]) switch
            {
                'i' => 1,
                'v' => 5,
                'x' => 10,
                'l' => 50,
                _ => 100,
            };
            value += digit < largest ? -digit : digit;
            largest = Math.Max(largest, digit);
        }

        return Roman(value).AsSpan().Equals(text, StringComparison.OrdinalIgnoreCase);
    }

    private static string Roman(int value)
    {
        var roman = new System.Text.StringBuilder();
        foreach (
            (int digit, string letters) in (ReadOnlySpan<(int, string)>)
                [(100, "c"), (90, "xc"), (50, "l"), (40, "xl"), (10, "x"), (9, "ix"), (5, "v"), (4, "iv"), (1, "i")]
        )
        {
            for (; value >= digit; value -= digit)
                roman.Append(letters);
        }

        return roman.ToString();
    }
}
