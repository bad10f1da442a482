using AsmLsp.Core.Doubts;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Listings;

/// <summary>
/// Joins names of the code that a typesetting program has hyphenated at the end of the line. The hyphen of typesetting (U+2010) is on no
/// keyboard, so it is no minus; the word is a doubt all the same unless it is elsewhere in one piece.
/// </summary>
internal static class Hyphenation
{
    private const char Hyphen = '\u2010';

    /// <summary>The lines with the parted names joined.</summary>
    public static List<ListingLine> Join(List<ListingLine> lines)
    {
        if (!lines.Exists(static l => Stem(l) > 0))
            return lines;
        HashSet<string> whole = WholeNames(lines);
        var result = new List<ListingLine>(lines.Count);
        foreach (ListingLine line in lines)
        {
            if (
                result.Count > 0
                && Stem(result[^1]) is > 0 and var stem
                && line is { Printed: not null, IsProse: false, IsRow: false }
                && line.Text.TrimStart() is { Length: > 0 } rest
                && Lexer.IsNamePart(rest[0])
            )
            {
                ListingLine first = result[^1];
                string start = first.Text.TrimEnd()[..^1];
                int end = 0;
                while (end < rest.Length && Lexer.IsNamePart(rest[end]))
                    end++;
                string name = start[stem..] + rest[..end];
                result[^1] = first with
                {
                    Text = start + rest,
                    Rests = first.Rests.With(line.Origin),
                    Doubt = first.Doubt ?? (whole.Contains(name) ? null : $"'{name}' was parted by a hyphen"),
                };
                continue;
            }

            result.Add(line);
        }

        return result;
    }

    // Where the name begins that a line's end parts, or 0: a comment is joined elsewhere, with its hyphen.
    private static int Stem(ListingLine line)
    {
        string text = line.Text.TrimEnd();
        if (
            line.Printed is null
            || line.IsProse
            || text.Length < 2
            || text[^1] != Hyphen
            || !Lexer.IsNamePart(text[^2])
        )
            return 0;
        foreach (SyntaxToken token in Lexer.Lex(text))
            if (token.Kind == TokenKind.Comment)
                return 0;
        int start = text.Length - 1;
        while (start > 0 && Lexer.IsNamePart(text[start - 1]))
            start--;
        return start;
    }

    private static HashSet<string> WholeNames(List<ListingLine> lines)
    {
        var names = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        foreach (ListingLine line in lines)
        foreach (SyntaxToken token in Lexer.Lex(line.Text))
            if (token.Kind == TokenKind.Name)
                names.Add(line.Text.Substring(token.Start, token.Length));
        return names;
    }
}
