using AsmLsp.Core.Devices;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Listings.Ocr;

/// <summary>Characters of code that OCR reads where no program has them.</summary>
internal static class MisreadCharacters
{
    /// <summary>The first words of the rows: what may be names of the program.</summary>
    public static HashSet<string> NamesOf(List<PrintedLine> rows)
    {
        var names = new HashSet<string>(StringComparer.Ordinal);
        foreach (PrintedLine row in rows)
        {
            if (!row.IsOcr)
                continue;
            int start = 0;
            while (start < row.Text.Length && row.Text[start] == ' ')
                start++;
            int end = WordEnd(row.Text, start);
            if (end > start)
                names.Add(row.Text[start..end]);
        }

        return names;
    }

    /// <summary>The row with its characters corrected.</summary>
    public static PrintedLine Correct(PrintedLine line, HashSet<string> names)
    {
        line = WithoutPounds(line);
        line = WithChip(WithoutGap(line));
        for (int start = 0; start < CodeEnd(line.Text); )
        {
            int end = WordEnd(line.Text, start);
            if (end == start)
            {
                start++;
                continue;
            }

            // No author names a register so; one whose line begins with the word may have.
            string word = line.Text[start..end];
            if (names.Contains(word))
            {
                start = end;
                continue;
            }

            if (IsHexadecimal(word))
                line = OcrEdit.Replace(line, start, '0');
            else if (IsWithSuffix(word))
                for (int i = 0; i < word.Length; i++)
                    if (Digit(word[i]) is '0' or '1')
                        line = OcrEdit.Replace(line, start + i, Digit(word[i])!.Value, isCertain: true);
            start = end;
        }

        return line;
    }

    /// <summary>Whether a word is a hexadecimal number whose first digit was read as a letter.</summary>
    public static bool IsHexadecimal(string word)
    {
        if (word.Length < 3 || word[0] is not ('O' or 'o') || word[1] is not ('x' or 'X'))
            return false;
        for (int i = 2; i < word.Length; i++)
            if (!char.IsAsciiHexDigit(word[i]) && word[i] is not ('O' or 'o' or 'l' or 'I'))
                return false;
        return true;
    }

    /// <summary>Whether a word such as <c>Oeh</c> or <c>lch</c> is a hexadecimal number of digits and their letters, with no D among capitals that an O could be.</summary>
    public static bool IsWithSuffix(string word)
    {
        if (word.Length < 3 || word[^1] is not ('h' or 'H') || word[0] is not ('O' or 'o' or 'l' or 'I' or '0' or '1'))
            return false;
        bool isOdd = false;
        for (int i = 0; i < word.Length - 1; i++)
        {
            bool isLetter = word[i] is 'O' or 'o' or 'l' or 'I';
            if (!isLetter && !char.IsAsciiHexDigit(word[i]))
                return false;
            isOdd |= isLetter;
        }

        ReadOnlySpan<char> rest = word.AsSpan(1, word.Length - 2);
        return isOdd && (!rest.Contains('O') || rest.IndexOfAnyInRange('a', 'f') >= 0);
    }

    // 'f' is read as a pound sign, or as itself and a pound sign.
    private static PrintedLine WithoutPounds(PrintedLine line)
    {
        for (int at = line.Text.IndexOf('\u00A3', StringComparison.Ordinal); at >= 0 && at < CodeEnd(line.Text); )
        {
            bool isDouble =
                (at > 0 && line.Text[at - 1] is 'f' or 'F')
                || (at + 1 < line.Text.Length && line.Text[at + 1] is 'f' or 'F');
            line = isDouble ? OcrEdit.Remove(line, at) : OcrEdit.Replace(line, at, 'f');
            at = line.Text.IndexOf('\u00A3', StringComparison.Ordinal);
            if (at < 0)
                break;
        }

        return line;
    }

    // 'delays. inc': no file has a blank before its ending.
    private static PrintedLine WithoutGap(PrintedLine line)
    {
        if (LineSyntax.Parse(line.Text).Keyword != Keyword.Include)
            return line;
        for (int at = line.Text.IndexOf('.', StringComparison.Ordinal); at > 0 && at < CodeEnd(line.Text); )
        {
            int next = at + 1;
            while (next < line.Text.Length && line.Text[next] == ' ')
                next++;
            if (next > at + 1 && line.Text.AsSpan(next).StartsWith("inc", StringComparison.OrdinalIgnoreCase))
                return OcrEdit.Close(line, at + 1, next);
            int before = at;
            while (before > 0 && line.Text[before - 1] == ' ')
                before--;
            if (before < at && line.Text.AsSpan(at + 1).StartsWith("inc", StringComparison.OrdinalIgnoreCase))
                return OcrEdit.Close(line, before, at);
            at = line.Text.IndexOf('.', at + 1);
            if (at < 0)
                break;
        }

        return line;
    }

    // 'pl6f84a.inc', 'p=l6F84A': where exactly one chip looks so, and the word as it was read is none.
    private static PrintedLine WithChip(PrintedLine line)
    {
        LineSyntax syntax = LineSyntax.Parse(line.Text);
        if (syntax.Keyword is not (Keyword.Include or Keyword.Processor or Keyword.List))
            return line;
        int from = syntax.Tokens[syntax.OperationToken].End,
            end = CodeEnd(line.Text);
        for (int start = from; start < end; )
        {
            int stop = WordEnd(line.Text, start);
            if (stop == start)
            {
                start++;
                continue;
            }

            string word = line.Text[start..stop];
            bool isFile =
                stop + 4 <= line.Text.Length
                && line.Text.AsSpan(stop, 4).Equals(".inc", StringComparison.OrdinalIgnoreCase);
            bool isChip =
                isFile || syntax.Keyword == Keyword.Processor || (start > from && line.Text[start - 1] == '=');
            if (isChip && Known(word) is null && Meant(word) is { } meant && Known(meant) is not null)
            {
                for (int i = 0; i < meant.Length; i++)
                    if (line.Text[start + i] != meant[i])
                        line = OcrEdit.Replace(line, start + i, meant[i]);
            }

            start = stop;
        }

        return line;
    }

    private static Device? Known(string word) =>
        DeviceCatalog.Find(word) ?? (word.Length > 1 && word[0] is 'p' or 'P' ? DeviceCatalog.Find(word[1..]) : null);

    // After 'p', two digits, the family's letters and digits follow; letters at the end stay.
    private static string? Meant(string word)
    {
        var text = word.ToCharArray();
        int at = text[0] is 'p' or 'P' ? 1 : 0;
        int digits = 0;
        while (at < text.Length && Digit(text[at]) is { } digit && digits < 2)
        {
            text[at++] = digit;
            digits++;
        }

        while (at < text.Length && text[at] is 'f' or 'F' or 'c' or 'C' or 'r' or 'R' or 'h' or 'H' or 'v' or 'V')
            at++;
        digits = 0;
        while (at < text.Length && Digit(text[at]) is { } digit && digits < 4)
        {
            text[at++] = digit;
            digits++;
        }

        return at + 1 >= text.Length ? new string(text) : null;
    }

    private static char? Digit(char c) =>
        c switch
        {
            >= '0' and <= '9' => c,
            'l' or 'I' or 'i' or '|' => '1',
            'O' or 'o' => '0',
            'S' or 's' => '5',
            'B' => '8',
            'G' or 'b' => '6',
            'Z' or 'z' => '2',
            _ => null,
        };

    /// <summary>The column of the remark's sign, or the length of the text.</summary>
    public static int CodeEnd(string text)
    {
        int at = text.IndexOf(';', StringComparison.Ordinal);
        return at < 0 ? text.Length : at;
    }

    private static int WordEnd(string text, int start)
    {
        int end = start;
        while (end < text.Length && (char.IsAsciiLetterOrDigit(text[end]) || text[end] == '_'))
            end++;
        return end;
    }
}
