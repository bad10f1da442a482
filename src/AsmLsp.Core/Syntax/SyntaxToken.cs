using AsmLsp.Core.Text;

namespace AsmLsp.Core.Syntax;

/// <summary>What a token is. The kinds say how a token looks, not what it means in its place.</summary>
public enum TokenKind
{
    /// <summary>Blanks, tabs, form feeds and no-break spaces.</summary>
    Blank,

    /// <summary>A name: an operation, a label, a symbol, or the word of a <c>#</c> directive.</summary>
    Name,

    /// <summary>A number in any notation, quotes of <c>h'1F'</c> included.</summary>
    Number,

    /// <summary>A character in single quotes.</summary>
    Character,

    /// <summary>Text in double quotes.</summary>
    Text,

    /// <summary>An operator of an expression or of an assignment.</summary>
    Operator,

    /// <summary><c>(</c></summary>
    Open,

    /// <summary><c>)</c></summary>
    Close,

    /// <summary><c>,</c></summary>
    Comma,

    /// <summary><c>:</c></summary>
    Colon,

    /// <summary><c>$</c>, the address of this word.</summary>
    Here,

    /// <summary>A comment from its semicolon to the end of the line.</summary>
    Comment,

    /// <summary>A character that the language has no use for.</summary>
    Stray,
}

/// <summary>A token of one line; the tokens of a line add up to its text.</summary>
public readonly record struct SyntaxToken(TokenKind Kind, int Start, int Length)
{
    /// <summary>The column after the token.</summary>
    public int End => Start + Length;

    /// <summary>The token's stretch, by columns of its line.</summary>
    public TextSpan Span => new(Start, Length);
}
