using System.Text;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Layout;

/// <summary>The smallest edits between two lines that differ in white space only.</summary>
internal static class BlankEdits
{
    /// <summary>A line with blanks in place of the tabs between its parts, at the same columns; texts and comments keep theirs.</summary>
    public static string WithoutTabs(string line, int tabSize)
    {
        if (!line.Contains('\t', StringComparison.Ordinal))
            return line;
        var text = new StringBuilder(line.Length + 16);
        int column = 0;
        foreach (SyntaxToken token in Lexer.Lex(line))
        {
            ReadOnlySpan<char> part = line.AsSpan(token.Start, token.Length);
            int end = ColumnStyle.Advance(part, column, tabSize);
            if (token.Kind == TokenKind.Blank && part.Contains('\t'))
                foreach (char c in part)
                {
                    int next = ColumnStyle.Advance([c], column, tabSize);
                    text.Append(c == '\t' ? ' ' : c, c == '\t' ? next - column : 1);
                    column = next;
                }
            else
                text.Append(part);
            column = end;
        }

        return text.ToString();
    }

    /// <summary>The edits that turn the one line into the other, by columns of the first.</summary>
    public static IEnumerable<TextEdit> Between(string before, string after)
    {
        int a = 0,
            b = 0;
        while (a < before.Length || b < after.Length)
        {
            int aEnd = a,
                bEnd = b;
            while (aEnd < before.Length && Lexer.IsBlank(before[aEnd]))
                aEnd++;
            while (bEnd < after.Length && Lexer.IsBlank(after[bEnd]))
                bEnd++;
            if (!before.AsSpan(a, aEnd - a).SequenceEqual(after.AsSpan(b, bEnd - b)))
            {
                int same = before.AsSpan(a, aEnd - a).CommonPrefixLength(after.AsSpan(b, bEnd - b));
                yield return new TextEdit(TextSpan.FromBounds(a + same, aEnd), after[(b + same)..bEnd]);
            }

            a = aEnd;
            b = bEnd;
            while (a < before.Length && b < after.Length && before[a] == after[b] && !Lexer.IsBlank(before[a]))
            {
                a++;
                b++;
            }

            // Not the same words: whoever asked is wrong, and nothing may be lost.
            if (a < before.Length && b < after.Length && !Lexer.IsBlank(before[a]) && !Lexer.IsBlank(after[b]))
                yield break;
            if ((a == before.Length) != (b == after.Length) && aEnd == a && bEnd == b)
                yield break;
        }
    }
}
