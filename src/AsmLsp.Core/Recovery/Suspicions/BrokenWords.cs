using AsmLsp.Core.Doubts;
using AsmLsp.Core.Recovery.Listings;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Suspicions;

/// <summary>
/// Words that were printed in two pieces and put together: a doubt, unless the whole word is elsewhere in the listing, in
/// one piece, or is one of the language.
/// </summary>
internal static class BrokenWords
{
    /// <summary>Marks the lines with a word that nothing else knows.</summary>
    public static List<ListingLine> Mark(List<ListingLine> lines)
    {
        if (!lines.Exists(static l => l.Printed is { Seams.IsDefaultOrEmpty: false }))
            return lines;
        var whole = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        foreach (ListingLine line in lines)
        {
            foreach (SyntaxToken token in Lexer.Lex(line.Text))
            {
                if (token.Kind != TokenKind.Name)
                    continue;
                string name = line.Text.Substring(token.Start, token.Length);
                // The pieces' own line proves nothing, but another one of its words may.
                if (
                    line.Printed is not { Seams.IsDefaultOrEmpty: false } printed
                    || !WordsAtSeams(printed.Text, printed.Seams).Contains(name, StringComparer.OrdinalIgnoreCase)
                )
                    whole.Add(name);
            }
        }

        var result = new List<ListingLine>(lines.Count);
        foreach (ListingLine line in lines)
        {
            result.Add(line);
            if (line.Doubt is not null || line.Printed is not { Seams.IsDefaultOrEmpty: false } printed)
                continue;
            foreach (string word in WordsAtSeams(printed.Text, printed.Seams))
            {
                if (whole.Contains(word) || OperationWords.KindOf(word) != OperationKind.Unknown)
                    continue;
                result[^1] = line with { Doubt = $"'{word}' was printed in two pieces" };
                break;
            }
        }

        return result;
    }

    // The words at the seams of the code; a comment may say what it will.
    private static IEnumerable<string> WordsAtSeams(string text, IEnumerable<int> seams)
    {
        int comment = text.Length;
        foreach (SyntaxToken token in Lexer.Lex(text))
            if (token.Kind == TokenKind.Comment)
                comment = token.Start;
        foreach (int seam in seams)
        {
            if (seam > comment || seam >= text.Length)
                continue;
            int start = seam,
                end = seam;
            while (start > 0 && Lexer.IsNamePart(text[start - 1]))
                start--;
            while (end < text.Length && Lexer.IsNamePart(text[end]))
                end++;
            yield return text[start..end];
        }
    }
}
