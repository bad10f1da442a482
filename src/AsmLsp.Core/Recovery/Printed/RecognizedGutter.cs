using System.Text;

namespace AsmLsp.Core.Recovery.Printed;

/// <summary>
/// Letters in the addresses and words printed in front of the lines, where a text recognition saw them for digits: <c>OOA0</c> is 00A0. Only
/// where most lines of the page begin with such numbers, so that a label that looks like one stays a label.
/// </summary>
internal static class RecognizedGutter
{
    private const int MostWords = 3;

    /// <summary>Puts digits for the letters, one for one.</summary>
    public static void Normalize(IReadOnlyList<StringBuilder> lines)
    {
        int begin = 0, pure = 0, all = 0;
        foreach (StringBuilder line in lines)
        {
            string text = line.ToString();
            (int from, int to) = Word(text, 0);
            if (to == from) continue;
            all++;
            if (!IsNumber(text.AsSpan(from, to - from))) continue;
            begin++;
            if (text.AsSpan(from, to - from).IndexOfAnyExceptInRange('0', '9') < 0) pure++;
        }

        // Comments and definitions have none in front.
        if (begin * 10 < all * 4 || pure * 3 < begin) return;
        foreach (StringBuilder line in lines)
        {
            string text = line.ToString();
            (int from, int to) = Word(text, 0);
            for (int word = 0; word < MostWords && to > from && IsNumber(text.AsSpan(from, to - from)); word++)
            {
                for (int i = from; i < to; i++) line[i] = Digit(text[i]);
                (from, to) = Word(text, to);
            }
        }
    }

    // Four hexadecimal digits, or a line number; a word of letters alone has to have some that are none.
    private static bool IsNumber(ReadOnlySpan<char> word)
    {
        if (word.Length is 0 or > 6) return false;
        bool digit = false, other = false;
        foreach (char c in word)
        {
            if (!char.IsAsciiHexDigit(Digit(c)) || char.IsAsciiLetterLower(Digit(c))) return false;
            digit |= char.IsAsciiDigit(c);
            other |= Digit(c) != c;
        }

        // One of four digits may have been passed over.
        return (word.Length is 4 && (digit || other)) || (word.Length is 3 && digit && other) || word.IndexOfAnyExceptInRange('0', '9') < 0;
    }

    private static char Digit(char c) => c switch
    {
        'O' or 'o' or 'Q' or '@' => '0',
        'l' or 'I' or 'i' or '|' or '!' => '1',
        'Z' => '2',
        'S' or 's' => '5',
        'T' => '7',
        'g' => '9',
        'c' or '\u00A2' => 'C',
        'e' => 'E',
        _ => c,
    };

    private static (int From, int To) Word(string text, int from)
    {
        while (from < text.Length && text[from] == ' ') from++;
        int to = from;
        while (to < text.Length && text[to] != ' ') to++;
        return (from, to);
    }
}
