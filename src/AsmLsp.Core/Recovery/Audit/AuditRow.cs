using AsmLsp.Core.Printed;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Recovery.Audit;

/// <summary>A printed row as the page gives it, before anything was done to it.</summary>
internal sealed class AuditRow
{
    public AuditRow(PrintedLine printed, int index)
    {
        Printed = printed;
        Index = index;
        Plain = PlainSigns.Of(printed.Text);
        CommentAt = CommentStart(Plain);
        Start = Plain.Length - Plain.AsSpan().TrimStart().Length;
    }

    /// <summary>The row on its page.</summary>
    public PrintedLine Printed { get; }

    /// <summary>Its place among all rows in reading order.</summary>
    public int Index { get; }

    /// <summary>Its text with plain characters; columns are those of the print.</summary>
    public string Plain { get; }

    /// <summary>The column of the author's own <c>;</c>, or the length of the text.</summary>
    public int CommentAt { get; }

    /// <summary>The column of the first character that is no blank.</summary>
    public int Start { get; }

    /// <summary>The column at which the text after the gutter starts: the first character that came into the source.</summary>
    public int TextStart { get; set; } = -1;

    /// <summary>The lines of the source that come from this row.</summary>
    public List<int> Lines { get; } = [];

    /// <summary>Whether a part of it that the author did not write as a comment became one.</summary>
    public bool IsSilenced { get; set; }

    /// <summary>Whether the author's comment starts on it.</summary>
    public bool HasComment => CommentAt < Plain.Length;

    public PrintedPlace Place => new(Printed.Page, Printed.Number);

    /// <summary>The column of the <c>;</c> that starts the comment, or the length of the text.</summary>
    public static int CommentStart(string text)
    {
        if (!text.Contains(';', StringComparison.Ordinal))
            return text.Length;
        SyntaxToken[] tokens = Lexer.Lex(text);
        return tokens.Length > 0 && tokens[^1].Kind == TokenKind.Comment ? tokens[^1].Start : text.Length;
    }
}
