using System.Collections.Frozen;
using System.Globalization;
using System.Text;

namespace AsmLsp.Core.Recovery.Pastes;

/// <summary>What is left of a web page or a forum in the text: names of characters such as <c>&amp;nbsp;</c>, tags, lines that frame code.</summary>
internal static class WebRemains
{
    // The names that editors of web pages write for what has a meaning of its own there, and blanks (HTML Living Standard, 13.5).
    private static readonly FrozenDictionary<string, char> Names = new Dictionary<string, char>(StringComparer.Ordinal)
    {
        ["nbsp"] = ' ',
        ["lt"] = '<',
        ["gt"] = '>',
        ["amp"] = '&',
        ["quot"] = '"',
        ["apos"] = '\'',
        ["ensp"] = ' ',
        ["emsp"] = ' ',
        ["shy"] = '\u200B',
        ["copy"] = '\u00A9',
        ["deg"] = '\u00B0',
        ["micro"] = '\u00B5',
        ["ndash"] = '\u2013',
        ["mdash"] = '\u2014',
        ["lsquo"] = '\u2018',
        ["rsquo"] = '\u2019',
        ["ldquo"] = '\u201C',
        ["rdquo"] = '\u201D',
        ["hellip"] = '\u2026',
    }.ToFrozenDictionary(StringComparer.Ordinal);

    // Tags that style text or part lines: none is the name of a file to include.
    private static readonly FrozenSet<string> Tags = FrozenSet.Create(
        StringComparer.OrdinalIgnoreCase,
        [
            "br",
            "p",
            "pre",
            "code",
            "span",
            "div",
            "font",
            "b",
            "i",
            "u",
            "em",
            "strong",
            "tt",
            "td",
            "tr",
            "table",
            "tbody",
            "a",
            "blockquote",
            "li",
            "ol",
            "ul",
        ]
    );

    private static readonly FrozenSet<string> Frames = FrozenSet.Create(
        StringComparer.OrdinalIgnoreCase,
        [
            "[code]",
            "[/code]",
            "[quote]",
            "[/quote]",
            "[pre]",
            "[/pre]",
            "Code:",
            "Code: [Select]",
            "Quote:",
            "Select all",
            "Code: Select all",
            "Copy code",
            "Expand|Select|Wrap|Line Numbers",
            "View plain copy to clipboard print ?",
        ]
    );

    /// <summary>
    /// Writes the characters that names such as <c>&amp;lt;</c> mean; names of names are taken at their word. A program may print such a name itself:
    /// in quotes they are names only where others outside of quotes show that the whole text has them.
    /// </summary>
    public static string? DecodeEntities(string[] lines)
    {
        int changed = 0;
        // A program may have names of its own that are spelled so.
        HashSet<string> own = [.. lines.Select(static l => FirstWord(l)).Where(static w => Names.ContainsKey(w))];
        bool inQuotes = lines.Any(l => NamesIn(l, own).Any(static n => !n.IsInQuotes));
        for (int i = 0; i < lines.Length; i++)
        {
            string line = lines[i];
            string decoded = Decoded(line, own, inQuotes);
            if (decoded == line)
                continue;
            lines[i] = decoded;
            changed++;
        }

        return changed == 0
            ? null
            : $"Names of characters from a web page ('&nbsp;' and the like) became the characters in {PasteCleaner.Lines(changed)}.";
    }

    private static string FirstWord(string line)
    {
        ReadOnlySpan<char> text = line.AsSpan().Trim();
        int end = 0;
        while (end < text.Length && char.IsAsciiLetterOrDigit(text[end]))
            end++;
        return text[..end].ToString();
    }

    private static string Decoded(string line, HashSet<string> own, bool inQuotes)
    {
        if (!line.Contains('&', StringComparison.Ordinal))
            return line;
        var text = new StringBuilder(line.Length);
        int from = 0;
        foreach ((int at, int end, char meant, bool isInQuotes) in NamesIn(line, own))
        {
            if (isInQuotes && !inQuotes)
                continue;
            text.Append(line, from, at - from).Append(meant);
            from = end;
        }

        return text.Append(line, from, line.Length - from).ToString();
    }

    // The names of characters in a line, from left to right. The ';' of one starts no comment.
    private static IEnumerable<(int At, int End, char Meant, bool IsInQuotes)> NamesIn(string line, HashSet<string> own)
    {
        if (!line.Contains('&', StringComparison.Ordinal))
            yield break;
        var quotes = new QuoteState();
        for (int at = 0; at < line.Length; at++)
        {
            if (line[at] == '&' && CharacterAt(line, at, own) is var (meant, end) && end > at)
            {
                yield return (at, end, meant, quotes.IsOpen);
                at = end - 1;
            }
            else
                quotes.Pass(line, at);
        }
    }

    private static (char Meant, int End) CharacterAt(string line, int at, HashSet<string> own)
    {
        const int longest = 8;
        int end = line.IndexOf(';', at, Math.Min(longest, line.Length - at));
        if (end < 0)
            return default;
        ReadOnlySpan<char> name = line.AsSpan(at + 1, end - at - 1);
        if (Names.TryGetValue(name.ToString(), out char meant))
            return own.Contains(name.ToString()) ? default : (meant, end + 1);
        if (name.Length < 2 || name[0] != '#')
            return default;
        bool isHexadecimal = name[1] is 'x' or 'X';
        bool isNumber = int.TryParse(
            isHexadecimal ? name[2..] : name[1..],
            isHexadecimal ? NumberStyles.AllowHexSpecifier : NumberStyles.None,
            CultureInfo.InvariantCulture,
            out int number
        );
        if (!isNumber || number is < ' ' or > 0xFFFD || char.IsSurrogate((char)number))
            return default;
        return (number == 0xA0 ? ' ' : (char)number, end + 1);
    }

    /// <summary>Takes off tags that style text or part lines: those that part lines alone, others where they are closed again in their line.</summary>
    public static string? TakeTags(string[] lines)
    {
        int changed = 0;
        // A program may send pages itself.
        bool inQuotes = lines.Any(static l => TagsIn(l).Any(static t => !t.IsInQuotes));
        for (int i = 0; i < lines.Length; i++)
        {
            string without = WithoutTags(lines[i], inQuotes);
            if (without == lines[i])
                continue;
            lines[i] = without;
            changed++;
        }

        return changed == 0 ? null : $"Tags of a web page were taken out of {PasteCleaner.Lines(changed)}.";
    }

    private static string WithoutTags(string line, bool inQuotes)
    {
        if (!line.Contains('<', StringComparison.Ordinal))
            return line;
        var text = new StringBuilder(line.Length);
        int from = 0;
        foreach ((int at, int end, bool isInQuotes) in TagsIn(line))
        {
            if (isInQuotes && !inQuotes)
                continue;
            text.Append(line, from, at - from);
            from = end;
        }

        return text.Append(line, from, line.Length - from).ToString();
    }

    // The tags of a line, from left to right. The quotes in one are its own.
    private static IEnumerable<(int At, int End, bool IsInQuotes)> TagsIn(string line)
    {
        if (!line.Contains('<', StringComparison.Ordinal))
            yield break;
        var quotes = new QuoteState();
        for (int at = 0; at < line.Length; at++)
        {
            if (line[at] == '<' && TagAt(line, at) is var (name, end) && end > 0 && IsSure(line, at, end, name))
            {
                yield return (at, end, quotes.IsOpen);
                at = end - 1;
            }
            else
                quotes.Pass(line, at);
        }
    }

    private static (string Name, int End) TagAt(string line, int at)
    {
        int start = at + 1;
        if (start < line.Length && line[start] == '/')
            start++;
        int end = start;
        while (end < line.Length && char.IsAsciiLetter(line[end]))
            end++;
        string name = line[start..end];
        if (!Tags.Contains(name))
            return default;
        int close = line.IndexOf('>', end);
        int next = line.IndexOf('<', end);
        // Between name and '>' there are attributes or the sign of an empty tag.
        bool isTag =
            close >= 0
            && (next < 0 || next > close)
            && (close == end || line[end] is ' ' or '/')
            && (
                close == end
                || line[end..close].Trim() is "" or "/"
                || line[end..close].Contains('=', StringComparison.Ordinal)
            );
        return isTag ? (name, close + 1) : default;
    }

    private static bool IsSure(string line, int at, int end, string name) =>
        name.Equals("br", StringComparison.OrdinalIgnoreCase)
        || line[at + 1] == '/'
        || line[at..end].Contains('=', StringComparison.Ordinal)
        || line.IndexOf($"</{name}>", end, StringComparison.OrdinalIgnoreCase) >= 0
        || line.Trim().Length == end - at;

    /// <summary>Takes out the lines that frame code in a forum.</summary>
    public static string? TakeFences(string[] lines)
    {
        string? first = null;
        for (int i = 0; i < lines.Length; i++)
        {
            string line = lines[i].Trim();
            if (!Frames.Contains(line) && !IsFence(line))
                continue;
            first ??= line;
            lines[i] = "";
        }

        return first is null ? null : $"Lines that frame code on a web page were left out: '{first}'.";
    }

    // Three marks, with the name of a language at the most.
    private static bool IsFence(string line)
    {
        if (line.Length < 3 || (line[0] is not '`' and not '~'))
            return false;
        string rest = line.TrimStart(line[0]);
        return line.Length - rest.Length >= 3 && rest.Length < 12 && rest.All(char.IsAsciiLetterOrDigit);
    }
}
