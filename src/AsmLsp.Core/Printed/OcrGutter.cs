using System.Text;

namespace AsmLsp.Core.Printed;

/// <summary>
/// Letters in the addresses and words printed in front of the lines, where a text recognition saw them for digits: <c>OOA0</c> is 00A0. Only
/// where most lines of the page begin with such numbers, so that a label that looks like one stays a label.
/// </summary>
internal static class OcrGutter
{
    private const int MostWords = 3;

    /// <summary>Puts digits for the letters, one for one.</summary>
    public static void Normalize(IReadOnlyList<StringBuilder> lines)
    {
        int begin = 0,
            pure = 0,
            all = 0;
        foreach (StringBuilder line in lines)
        {
            string text = line.ToString();
            (int from, int to) = Word(text, 0);
            if (to == from)
                continue;
            all++;
            if (!IsNumber(text.AsSpan(from, to - from)))
                continue;
            begin++;
            if (text.AsSpan(from, to - from).IndexOfAnyExceptInRange('0', '9') < 0)
                pure++;
        }

        // Comments and definitions have none in front.
        if (begin * 10 < all * 4 || pure * 3 < begin)
            return;
        foreach (StringBuilder line in lines)
        {
            string text = line.ToString();
            (int from, int to) = Word(text, 0);
            for (int word = 0; word < MostWords && to > from && IsNumber(text.AsSpan(from, to - from)); word++)
            {
                for (int i = from; i < to; i++)
                    line[i] = Digit(text[i]);
                (from, to) = Word(text, to);
            }
        }

        NormalizeColumns(lines);
    }

    // Where addresses or words are below each other, a word of the same length that can be a number is one: 'OAAL' below '0AA1'.
    private static void NormalizeColumns(IReadOnlyList<StringBuilder> lines)
    {
        // Counted from the end of the first number: each line begins where its ink does.
        var columns = new Dictionary<int, int>();
        foreach (StringBuilder line in lines)
        {
            string text = line.ToString();
            (int Start, int End) first = Word(text, 0);
            foreach ((int from, int to) in WordsAfter(text, first))
                if (to - from == 4 && IsHex(text.AsSpan(from, 4)))
                    columns[from - first.End] = columns.GetValueOrDefault(from - first.End) + 1;
        }

        foreach (StringBuilder line in lines)
        {
            string text = line.ToString();
            (int Start, int End) first = Word(text, 0);
            foreach ((int from, int to) in WordsAfter(text, first))
            {
                if (
                    to - from != 4
                    || columns.GetValueOrDefault(from - first.End) * 10 < lines.Count * 3
                    || IsHex(text.AsSpan(from, 4))
                )
                    continue;
                string digits = string.Concat(text[from..to].Select(static c => c is 'L' ? '1' : Digit(c)));
                if (!IsHex(digits))
                    continue;
                for (int i = 0; i < digits.Length; i++)
                    line[from + i] = digits[i];
            }
        }
    }

    private static bool IsHex(ReadOnlySpan<char> word)
    {
        foreach (char c in word)
            if (!char.IsAsciiHexDigit(c))
                return false;
        return word.ContainsAnyInRange('0', '9');
    }

    // The next words, where the line begins with a number.
    private static List<(int From, int To)> WordsAfter(string text, (int Start, int End) first)
    {
        var words = new List<(int, int)>();
        if (!IsHex(text.AsSpan(first.Start, first.End - first.Start)))
            return words;
        for (
            (int from, int to) = Word(text, first.End);
            to > from && words.Count < MostWords - 1;
            (from, to) = Word(text, to)
        )
            words.Add((from, to));
        return words;
    }

    // Four hexadecimal digits, or a line number; a word of letters alone has to have some that are none.
    private static bool IsNumber(ReadOnlySpan<char> word)
    {
        if (word.Length is 0 or > 6)
            return false;
        bool digit = false,
            other = false;
        foreach (char c in word)
        {
            if (!char.IsAsciiHexDigit(Digit(c)) || char.IsAsciiLetterLower(Digit(c)))
                return false;
            digit |= char.IsAsciiDigit(c);
            other |= Digit(c) != c;
        }

        // One of four digits may have been passed over.
        return (word.Length is 4 && (digit || other))
            || (word.Length is 3 && digit && other)
            || word.IndexOfAnyExceptInRange('0', '9') < 0;
    }

    private static char Digit(char c) =>
        c switch
        {
            'O' or 'o' or 'Q' or '@' or '\u00AB' => '0',
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
        while (from < text.Length && text[from] == ' ')
            from++;
        int to = from;
        while (to < text.Length && text[to] != ' ')
            to++;
        return (from, to);
    }
}
