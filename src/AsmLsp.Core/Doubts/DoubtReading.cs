using System.Text;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Doubts;

/// <summary>Puts another reading of a doubtful line in the place of the one that is there; comment and columns stay.</summary>
public static class DoubtReading
{
    /// <summary>The code of a line as a reading of it: with one blank in front where it has no label and one where it has several, without its comment.</summary>
    public static string Of(string line)
    {
        TextSpan span = LineSyntax.Parse(line).CodeSpan;
        if (span.Length == 0)
            return "";
        var code = new StringBuilder(span.Start > 0 ? " " : "");
        foreach (SyntaxToken token in Lexer.Lex(line))
            if (token.Start >= span.Start && token.End <= span.End)
                code.Append(token.Kind == TokenKind.Blank ? " " : line.AsSpan(token.Start, token.Length));
        return code.ToString();
    }

    /// <summary>The line with another reading, its doubt taken away.</summary>
    public static string Take(string marked, string reading)
    {
        string line = DoubtMark.Remove(marked);
        if (reading == Doubt.AsComment)
            return AsComment(line);
        TextSpan span = LineSyntax.Parse(line).CodeSpan;
        if (span.Length == 0)
            return Uncommented(line, reading);
        SyntaxToken[] before = Words(line),
            after = Words(reading);
        if (after.Length == 0 || (span.Start > 0) != (reading[0] == ' '))
            return string.Concat(reading.TrimEnd(), line.AsSpan(span.End));
        // What both readings share keeps its columns: only the words between are exchanged.
        int same = 0,
            least = Math.Min(before.Length, after.Length);
        while (same < least && Equal(line, before[same], reading, after[same]))
            same++;
        int tail = 0;
        while (tail < least - same && Equal(line, before[^(tail + 1)], reading, after[^(tail + 1)]))
            tail++;
        bool exchanges = same + tail < least;
        TextSpan old = Between(before, same, tail, exchanges),
            now = Between(after, same, tail, exchanges);
        return string.Concat(line.AsSpan(0, old.Start), reading.AsSpan(now.Start, now.Length), line.AsSpan(old.End));
    }

    // The words that differ; where one side has none there, the blanks around them, too.
    private static TextSpan Between(SyntaxToken[] words, int same, int tail, bool exchanges) =>
        exchanges
            ? TextSpan.FromBounds(words[same].Start, words[^(tail + 1)].End)
            : TextSpan.FromBounds(
                same == 0 ? words[0].Start : words[same - 1].End,
                tail == 0 ? words[^1].End : words[^tail].Start
            );

    private static string AsComment(string line)
    {
        int start = line.Length - line.TrimStart().Length;
        return start == line.Length || line[start] == ';' ? line : line.Insert(start, "; ");
    }

    // A comment that another reading takes for code: what it says is kept after the code where it says something else.
    private static string Uncommented(string line, string reading)
    {
        string said = line.TrimStart().TrimStart(';').Trim();
        return said.Length == 0 || said == reading.Trim() ? reading.TrimEnd() : $"{reading.TrimEnd()} ; {said}";
    }

    private static SyntaxToken[] Words(string text) =>
        [.. Lexer.Lex(text).Where(static t => t.Kind is not (TokenKind.Blank or TokenKind.Comment))];

    private static bool Equal(string a, SyntaxToken x, string b, SyntaxToken y) =>
        a.AsSpan(x.Start, x.Length).SequenceEqual(b.AsSpan(y.Start, y.Length));
}
