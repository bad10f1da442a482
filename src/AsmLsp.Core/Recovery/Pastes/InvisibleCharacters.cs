using System.Buffers;
using System.Text;

namespace AsmLsp.Core.Recovery.Pastes;

/// <summary>
/// Characters that show nothing, and blanks, letters and signs that look like those of a keyboard and are others: word processors, web
/// pages and PDF files copy them. Where a wrong encoding made them, they are pieces of other letters, and stay.
/// </summary>
internal static class InvisibleCharacters
{
    private const char SoftHyphen = '\u00AD';
    private const char NoBreakBlank = '\u00A0';

    // Without width: joiners, marks of direction, byte order mark (Unicode 15, general category Cf).
    private static readonly SearchValues<char> Nothing = SearchValues.Create(
        "\u00AD\u200B\u200C\u200D\u200E\u200F\u202A\u202B\u202C\u202D\u202E\u2060\u2061\u2062\u2063\u2066\u2067\u2068\u2069\uFEFF"
    );

    // The Greek question mark and the Arabic semicolon look like the sign of a comment.
    private const string Semicolons = "\u037E\u061B";

    private static readonly SearchValues<char> Others = SearchValues.Create(
        Semicolons
            + "\u00A0\u2000\u2001\u2002\u2003\u2004\u2005\u2006\u2007\u2008\u2009\u200A\u202F\u205F\u3000"
            + string.Concat(Enumerable.Range(0xFB00, 7).Select(static c => (char)c))
            + string.Concat(Enumerable.Range(0xFF01, 94).Select(static c => (char)c))
    );

    private static readonly string[] Ligatures = ["ff", "fi", "fl", "ffi", "ffl", "st", "st"];

    /// <summary>Takes out what shows nothing.</summary>
    public static string? Take(string[] lines)
    {
        int changed = 0;
        for (int i = 0; i < lines.Length; i++)
        {
            if (lines[i].AsSpan().IndexOfAny(Nothing) < 0)
                continue;
            string line = lines[i];
            var text = new StringBuilder(line.Length);
            for (int at = 0; at < line.Length; at++)
                // At a line's end it parts a word: joining the lines asks for it.
                if (
                    !Nothing.Contains(line[at])
                    || (line[at] == SoftHyphen && (IsPiece(line, at) || line.AsSpan(at + 1).Trim().IsEmpty))
                )
                    text.Append(line[at]);
            if (text.Length == line.Length)
                continue;
            lines[i] = text.ToString();
            changed++;
        }

        return changed == 0 ? null : $"Characters that show nothing were taken out of {PasteCleaner.Lines(changed)}.";
    }

    /// <summary>Writes plain blanks for those of other widths, two letters for joined ones, plain signs for wide ones.</summary>
    public static string? Plain(string[] lines)
    {
        int changed = 0;
        // Blanks in quotes are the author's, unless all of the text is laid out with such blanks.
        bool inQuotes = lines.Any(HasBlankInCode);
        for (int i = 0; i < lines.Length; i++)
        {
            if (lines[i].AsSpan().IndexOfAny(Others) < 0)
                continue;
            string plain = PlainOf(lines[i], inQuotes);
            if (plain == lines[i])
                continue;
            lines[i] = plain;
            changed++;
        }

        return changed == 0
            ? null
            : $"Blanks, letters and signs of typesetting became those of a keyboard in {PasteCleaner.Lines(changed)}.";
    }

    private static bool HasBlankInCode(string line)
    {
        int end = PasteCleaner.CodeEnd(line);
        char quote = '\0';
        for (int at = 0; at < end; at++)
        {
            char c = line[at];
            if (quote != '\0')
                quote = c == quote ? '\0' : quote;
            else if (c is '"' or '\'')
                quote = c;
            else if (IsBlank(c) && !IsPiece(line, at))
                return true;
        }

        return false;
    }

    private static string PlainOf(string line, bool inQuotes)
    {
        var text = new StringBuilder(line.Length);
        char quote = '\0';
        bool isComment = false;
        bool isWide = HasLettersOfTheEast(line);
        for (int at = 0; at < line.Length; at++)
        {
            char c = line[at];
            if (IsBlank(c) && !IsPiece(line, at) && (isComment || quote == '\0' || inQuotes))
                text.Append(' ');
            else if (quote == '\0' && Semicolons.Contains(c, StringComparison.Ordinal))
                text.Append(';');
            else if (c is >= '\uFB00' and <= '\uFB06')
                text.Append(Ligatures[c - '\uFB00']);
            else if (c is >= '\uFF01' and <= '\uFF5E' && quote == '\0' && !isComment && !isWide)
                text.Append((char)(c - '\uFF01' + '!'));
            else
                text.Append(c);
            char written = text[^1];
            if (isComment)
                continue;
            if (quote != '\0')
                quote = written == quote ? '\0' : quote;
            else if (written is '"' or '\'')
                quote = written;
            else
                isComment = written == ';';
        }

        return text.ToString();
    }

    private static bool IsBlank(char c) => c == NoBreakBlank || (c > '\u1FFF' && char.IsWhiteSpace(c));

    // Sentences of Chinese, Japanese or Korean have wide signs of their own.
    private static bool HasLettersOfTheEast(string line)
    {
        foreach (char c in line)
            if (c is >= '\u3040' and <= '\u9FFF' or >= '\uAC00' and <= '\uD7A3')
                return true;
        return false;
    }

    // The second byte of a letter in UTF-8 whose first one was read as a letter of its own: these leads are those of Latin letters and signs.
    private static bool IsPiece(string line, int at) => at > 0 && line[at - 1] is '\u00C2' or '\u00C3';
}
