using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Shapes;

/// <summary>A text that lost its runs of blanks: browsers, mail and chats make one blank of several.</summary>
internal static class LostBlanks
{
    private const int LeastLines = 12;

    // Lines on each side, and those of them that show it.
    private const int Around = 20;
    private const int LeastAround = 4;

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

    /// <summary>The texts in quotes, with blanks, of pieces that lost their blanks in a text that is laid out elsewhere: a page may have been copied otherwise.</summary>
    public static HashSet<string> FlatTexts(SourceText text)
    {
        var found = new HashSet<string>(StringComparer.Ordinal);
        TextLine[] lines = [.. text.Lines.Where(static l => !string.IsNullOrWhiteSpace(l.Text))];
        for (int i = 0; i < lines.Length; i++)
        {
            if (!lines[i].Text.AsSpan().ContainsAny('"', '\''))
                continue;
            LineSyntax syntax = LineSyntax.Of(lines[i]);
            if (TextWithBlanks(syntax) is not { } span)
                continue;
            string quoted = syntax.Text.Substring(span.Start, span.Length);
            // Blanks side by side in quotes: only those outside were lost.
            if (quoted.Contains("  ", StringComparison.Ordinal) && !char.IsWhiteSpace(lines[i].Text[0]))
                return [];
            if (IsFlatAround(lines, i))
                found.Add(quoted);
        }

        return found;
    }

    // Operations in column one, and no two blanks side by side, from the line on in both directions.
    private static bool IsFlatAround(TextLine[] lines, int at)
    {
        int operations = 0;
        foreach (int step in (ReadOnlySpan<int>)[-1, 1])
            for (int i = step < 0 ? at : at + 1; i >= 0 && i < lines.Length && operations < LeastAround; i += step)
            {
                ReadOnlySpan<char> line = lines[i].Text.AsSpan().TrimEnd();
                if (
                    char.IsWhiteSpace(line[0])
                    || line.Contains("  ", StringComparison.Ordinal)
                    || line.Contains('\t')
                    || Math.Abs(i - at) > Around
                )
                    break;
                int end = line.IndexOfAny(' ', ';');
                ReadOnlySpan<char> first = end < 0 ? line : line[..end];
                if (OperationWords.KindOf(first) is OperationKind.Instruction or OperationKind.Directive)
                    operations++;
            }

        return operations >= LeastAround;
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
