using AsmLsp.Core.Text;

namespace AsmLsp.Core.Syntax;

/// <summary>One operand of a line: the tokens between two commas, read as an expression when asked.</summary>
public sealed class OperandSyntax
{
    private readonly LineSyntax line;
    private readonly int first;
    private readonly int end;
    private Expression? value;
    private int rest;

    internal OperandSyntax(LineSyntax line, int first, int end) =>
        (this.line, this.first, this.end) = (line, first, end);

    /// <summary>The operand's stretch without blanks around it, in columns of the line; empty where nothing is between two commas.</summary>
    public TextSpan Span
    {
        get
        {
            int from = first,
                to = end;
            while (from < to && line.Tokens[from].Kind == TokenKind.Blank)
                from++;
            while (to > from && line.Tokens[to - 1].Kind == TokenKind.Blank)
                to--;
            if (from < to)
                return TextSpan.FromBounds(line.Tokens[from].Start, line.Tokens[to - 1].End);
            return new TextSpan(first < line.Tokens.Length ? line.Tokens[first].Start : line.Text.Length, 0);
        }
    }

    /// <summary>The operand as written, without blanks around it.</summary>
    public string Text
    {
        get
        {
            TextSpan span = Span;
            return line.Text.Substring(span.Start, span.Length);
        }
    }

    /// <summary>The operand as an expression.</summary>
    public Expression Value => value ??= ExpressionParser.Parse(line.Text, line.Tokens, first, end, out rest);

    /// <summary>What comes after the expression and belongs to nothing, or an empty span.</summary>
    public TextSpan Leftover
    {
        get
        {
            _ = Value;
            if (rest >= end)
                return default;
            TextSpan span = Span;
            return TextSpan.FromBounds(line.Tokens[rest].Start, span.End);
        }
    }

    /// <summary>Index of the operand's first token.</summary>
    public int FirstToken => first;

    /// <summary>Index after the operand's last token.</summary>
    public int EndToken => end;
}
