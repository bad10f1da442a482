using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Shapes;

/// <summary>A text that lost its runs of blanks: browsers, mail and chats make one blank of several.</summary>
internal static class LostBlanks
{
    private const int LeastLines = 12;

    /// <summary>What to ask about a text in quotes of such a program.</summary>
    public const string Question = "are there more blanks in this text?";

    /// <summary>
    /// Whether no line has two blanks side by side, though many have code with a comment after it, or a label before it, where people put
    /// more than one.
    /// </summary>
    /// <param name="text">The text.</param>
    /// <param name="isFlat">Whether no line may begin with a blank either: so no author lays a program out.</param>
    public static bool IsSeenIn(SourceText text, bool isFlat)
    {
        int lines = 0;
        foreach (TextLine line in text.Lines)
        {
            ReadOnlySpan<char> whole = line.Text.AsSpan(),
                trimmed = whole.Trim();
            if (
                trimmed.Contains("  ", StringComparison.Ordinal)
                || trimmed.Contains('\t')
                || trimmed.Contains(" \u00A0", StringComparison.Ordinal)
                || (isFlat && trimmed.Length > 0 && char.IsWhiteSpace(whole[0]))
            )
                return false;
            if (trimmed.Contains(' ') && trimmed[0] != ';')
                lines++;
        }

        return lines >= LeastLines;
    }

    /// <summary>The text in quotes of a line that may have had more blanks; null where there is none. A blank alone is itself.</summary>
    public static TextSpan? TextWithBlanks(LineSyntax syntax)
    {
        for (int t = 0; t < syntax.EndOfCode; t++)
        {
            var token = syntax.Tokens[t];
            if (
                token.Kind is TokenKind.Text or TokenKind.Character
                && token.Length > 3
                && syntax.SpanOf(t).Contains(' ')
            )
                return token.Span;
        }

        return null;
    }
}
