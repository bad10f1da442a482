using System.Text;

namespace AsmLsp.Pdf.Tests.Printing;

/// <summary>What happens to single lines.</summary>
internal static class LineDamage
{
    public static string WithoutTabs(string line)
    {
        var text = new StringBuilder();
        foreach (char c in line)
        {
            if (c == '\t')
                text.Append(' ', 8 - text.Length % 8);
            else
                text.Append(c);
        }

        return text.ToString();
    }

    public static string Ragged(string line, int number)
    {
        if (line.Length == 0 || line[0] == ';')
            return line;
        if (line[0] == ' ')
            return number % 3 == 0 ? line.TrimStart(' ') : line;
        return number % 2 == 0 ? " " + line : line;
    }

    public static string LostBlanks(string line) =>
        string.Join(' ', line.Split(' ', StringSplitOptions.RemoveEmptyEntries));

    /// <summary>Quotes are curled by what is before them, as typesetting programs do it; dashes and joined letters only in comments.</summary>
    public static string Typographic(string line)
    {
        var text = new StringBuilder();
        bool comment = false;
        for (int i = 0; i < line.Length; i++)
        {
            char before = i == 0 ? ' ' : line[i - 1];
            bool opens =
                before is ' ' or '(' or ','
                || (
                    line[i] == '\'' && char.IsAsciiLetter(before) && (i < 2 || !char.IsAsciiLetterOrDigit(line[i - 2]))
                );
            switch (line[i])
            {
                case ';':
                    comment = true;
                    text.Append(';');
                    break;
                case '\'':
                    text.Append(opens ? '\u2018' : '\u2019');
                    break;
                case '"':
                    text.Append(opens ? '\u201C' : '\u201D');
                    break;
                case '-' when comment && before == ' ':
                    text.Append('\u2013');
                    break;
                case 'f' when comment && i + 1 < line.Length && line[i + 1] is 'i' or 'l':
                    text.Append(line[++i] == 'i' ? '\uFB01' : '\uFB02');
                    break;
                default:
                    text.Append(line[i]);
                    break;
            }
        }

        return text.ToString();
    }

    public static IEnumerable<string> Wrapped(string line, int width, bool hyphenate)
    {
        int comment = line.IndexOf(';', StringComparison.Ordinal);
        while (line.Length > width)
        {
            int cut = line.LastIndexOf(' ', width);
            bool inComment = comment >= 0 && comment < width - 4;
            // A word of the comment that does not fit is parted in its midst.
            if (
                hyphenate
                && inComment
                && char.IsAsciiLetter(line[width - 2])
                && char.IsAsciiLetter(line[width - 1])
                && char.IsAsciiLetter(line[width - 3])
            )
            {
                yield return line[..(width - 1)] + "-";
                line = line[(width - 1)..];
            }
            else if (cut > 0 && line[..cut].Trim().Length > 0)
            {
                yield return line[..cut].TrimEnd();
                line = line[(cut + 1)..].TrimStart();
            }
            else
            {
                yield return line[..width];
                line = line[width..];
            }

            comment = inComment ? 0 : line.IndexOf(';', StringComparison.Ordinal);
        }

        yield return line;
    }
}
