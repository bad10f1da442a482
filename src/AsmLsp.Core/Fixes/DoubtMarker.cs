using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Fixes;

/// <summary>
/// The mark of an open doubt: a trailing comment <c>;? few words</c>. It stands at the end of its line, behind a comment
/// where the line has one, so that it survives every program that reads the source. <see cref="Doubt"/> says what the words may hold.
/// </summary>
public static class DoubtMarker
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

    /// <summary>The words of the mark on a line, or null.</summary>
    public static string? WordsOf(string line) =>
        Find(line) is { } span ? line[(span.Start + Sign.Length)..].Trim() : null;

    /// <summary>The doubt on a line, or null.</summary>
    public static Doubt? Read(string line) => WordsOf(line) is { } words ? Doubt.Parse(words) : null;

    /// <summary>The line with a doubt behind it; one that it has is replaced.</summary>
    public static string Add(string line, Doubt doubt)
    {
        ArgumentNullException.ThrowIfNull(doubt);
        return Add(Remove(line), doubt.ToString());
    }

    /// <summary>The line with a doubt behind it.</summary>
    public static string Add(string line, string words)
    {
        ArgumentNullException.ThrowIfNull(line);
        return line.TrimEnd() + (line.AsSpan().Trim().IsEmpty ? "" : " ") + Sign + " " + words;
    }

    /// <summary>The line without its doubt.</summary>
    public static string Remove(string line)
    {
        ArgumentNullException.ThrowIfNull(line);
        return Find(line) is { } span ? line[..span.Start].TrimEnd() : line;
    }

    /// <summary>Edits with a doubt put on every line that they change; a line that carries one already keeps it alone.</summary>
    internal static List<TextEdit> AddTo(SourceText text, List<TextEdit> edits, string words)
    {
        var result = new List<TextEdit>(edits);
        var marked = new HashSet<int>();
        for (int i = 0; i < result.Count; i++)
        {
            TextEdit edit = result[i];
            // A line of its own gets the mark inside.
            if (edit.NewText.Length > 0 && edit.NewText[^1] is '\n' or '\r' && edit.Span.Length == 0)
            {
                string body = edit.NewText.TrimEnd('\r', '\n');
                result[i] = edit with { NewText = Add(body, words) + edit.NewText[body.Length..] };
                continue;
            }

            // A removed line end joins two lines: the mark goes behind the last of them.
            int line = text.PositionAt(edit.Span.End).Line;
            if (
                !marked.Add(line)
                || Find(text[line].Text) is not null
                || edit.NewText.Contains(Sign, StringComparison.Ordinal)
            )
                continue;
            int end = text.LineStart(line) + text[line].Text.Length;
            string mark = " " + Sign + " " + words;
            int last = result.FindIndex(e => e.Span.End == end);
            if (last >= 0)
                result[last] = result[last] with { NewText = result[last].NewText + mark };
            else
                result.Add(new TextEdit(new TextSpan(end, 0), mark));
        }

        return result;
    }
}
