using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Doubts;

/// <summary>
/// The mark of an open doubt: a trailing comment <c>;? few words</c>. It is at the end of its line, after a comment
/// where the line has one, so that it survives every program that reads the source. <see cref="Doubt"/> says what the words
/// may hold; this is the one place that writes and reads it. While a text is recovered, the bare sign keeps the line, and
/// <see cref="DoubtTable"/> holds what there is to say.
/// </summary>
public static class DoubtMark
{
    /// <summary>How a doubt begins.</summary>
    public const string Sign = ";?";

    /// <summary>The mark on a line, by its columns, or null where it has none.</summary>
    public static TextSpan? Find(string line)
    {
        ArgumentNullException.ThrowIfNull(line);
        int at = line.LastIndexOf(Sign, StringComparison.Ordinal);
        if (at < 0)
            return null;
        // Only inside a comment, or opening one: ';?' in a text in quotes is text.
        foreach (SyntaxToken token in Lexer.Lex(line))
            if (token.Kind == TokenKind.Comment && token.Start <= at)
                return TextSpan.FromBounds(at, line.Length);
        return null;
    }

    /// <summary>Whether a line has a mark.</summary>
    public static bool IsOn(string line) => Find(line) is not null;

    /// <summary>The words of the mark on a line as they are written, or null.</summary>
    public static string? WordsOf(string line) =>
        Find(line) is { } span ? line[(span.Start + Sign.Length)..].Trim() : null;

    /// <summary>The doubt on a line, or null.</summary>
    public static Doubt? Read(string line) =>
        Find(line) is { } span ? Doubt.Parse(line[(span.Start + Sign.Length)..]) : null;

    /// <summary>The line with a doubt after it; one that it has is replaced.</summary>
    public static string Add(string line, Doubt doubt)
    {
        ArgumentNullException.ThrowIfNull(doubt);
        return $"{Anchor(Remove(line))} {doubt}".TrimEnd();
    }

    /// <summary>The line with the bare sign after it, which keeps the place of a doubt.</summary>
    public static string Anchor(string line)
    {
        ArgumentNullException.ThrowIfNull(line);
        return line.TrimEnd() + (line.AsSpan().Trim().IsEmpty ? "" : " ") + Sign;
    }

    /// <summary>The line without its doubt.</summary>
    public static string Remove(string line)
    {
        ArgumentNullException.ThrowIfNull(line);
        return Find(line) is { } span ? line[..span.Start].TrimEnd() : line;
    }

    /// <summary>The line with its doubt written out in the place of its sign; put at the end where it has none.</summary>
    internal static string Render(string line, Doubt doubt)
    {
        if (Find(line) is not { } span)
            return Add(line, doubt);
        string words = doubt.ToString();
        // What a person wrote stays as it was written.
        return line.AsSpan(span.Start + Sign.Length).Trim().SequenceEqual(words)
            ? line
            : $"{line[..span.Start]}{Sign} {words}".TrimEnd();
    }

    /// <summary>Edits with a sign put on every line that they change; a line that has one already keeps it alone.</summary>
    /// <param name="text">The text before the edits.</param>
    /// <param name="edits">The edits.</param>
    /// <param name="marked">Gets the lines that had a sign already, by their number before the edits.</param>
    internal static List<TextEdit> AnchorAll(SourceText text, IReadOnlyList<TextEdit> edits, List<int> marked)
    {
        var result = new List<TextEdit>(edits);
        var seen = new HashSet<int>();
        for (int i = 0; i < result.Count; i++)
        {
            TextEdit edit = result[i];
            // A line of its own gets the sign inside.
            if (edit.NewText.Length > 0 && edit.NewText[^1] is '\n' or '\r' && edit.Span.Length == 0)
            {
                string body = edit.NewText.TrimEnd('\r', '\n');
                result[i] = edit with { NewText = Anchor(body) + edit.NewText[body.Length..] };
                continue;
            }

            // A removed line end joins two lines: the sign goes after the last of them.
            int line = text.PositionAt(edit.Span.End).Line;
            if (!seen.Add(line) || edit.NewText.Contains(Sign, StringComparison.Ordinal))
                continue;
            if (IsOn(text[line].Text))
            {
                marked.Add(line);
                continue;
            }

            int end = text.LineStart(line) + text[line].Text.Length;
            int last = result.FindIndex(e => e.Span.End == end);
            if (last >= 0)
                result[last] = result[last] with { NewText = result[last].NewText + " " + Sign };
            else
                result.Add(new TextEdit(new TextSpan(end, 0), " " + Sign));
        }

        return result;
    }
}
