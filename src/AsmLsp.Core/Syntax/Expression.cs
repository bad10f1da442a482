using AsmLsp.Core.Text;

namespace AsmLsp.Core.Syntax;

/// <summary>An operator of an expression.</summary>
public enum Operator
{
    /// <summary>Unary plus.</summary>
    Plus,

    /// <summary>Unary minus.</summary>
    Minus,

    /// <summary>1 for zero, 0 for anything else.</summary>
    Not,

    /// <summary>Every bit inverted.</summary>
    Complement,

    /// <summary>Bits 15 to 8.</summary>
    High,

    /// <summary>Bits 7 to 0.</summary>
    Low,

    /// <summary>Bits 21 to 16.</summary>
    Upper,

    /// <summary>Product.</summary>
    Multiply,

    /// <summary>Quotient, toward zero.</summary>
    Divide,

    /// <summary>Rest of the division.</summary>
    Remainder,

    /// <summary>Sum.</summary>
    Add,

    /// <summary>Difference.</summary>
    Subtract,

    /// <summary>Bits moved left.</summary>
    ShiftLeft,

    /// <summary>Bits moved right.</summary>
    ShiftRight,

    /// <summary>Less than.</summary>
    Less,

    /// <summary>Less than or equal.</summary>
    LessOrEqual,

    /// <summary>Greater than.</summary>
    Greater,

    /// <summary>Greater than or equal.</summary>
    GreaterOrEqual,

    /// <summary>Equal.</summary>
    Equal,

    /// <summary>Not equal.</summary>
    NotEqual,

    /// <summary>Bitwise and.</summary>
    And,

    /// <summary>Bitwise exclusive or.</summary>
    ExclusiveOr,

    /// <summary>Bitwise or.</summary>
    Or,

    /// <summary>Both are not zero.</summary>
    LogicalAnd,

    /// <summary>One of both is not zero.</summary>
    LogicalOr,
}

/// <summary>An expression of an operand; its span is in columns of its line.</summary>
public abstract record Expression(TextSpan Span);

/// <summary>A number or a character as written; what it is worth depends on the radix in force.</summary>
public sealed record LiteralExpression(TextSpan Span, string Text) : Expression(Span);

/// <summary>Text in double quotes, as written.</summary>
public sealed record TextExpression(TextSpan Span, string Text) : Expression(Span);

/// <summary>The value of a name.</summary>
public sealed record NameExpression(TextSpan Span, string Name) : Expression(Span);

/// <summary><c>$</c>: the address of this word.</summary>
public sealed record HereExpression(TextSpan Span) : Expression(Span);

/// <summary><c>defined(name)</c>: 1 where the name is known, else 0.</summary>
public sealed record DefinedExpression(TextSpan Span, NameExpression Name) : Expression(Span);

/// <summary>An operator before its operand.</summary>
public sealed record UnaryExpression(TextSpan Span, Operator Operator, Expression Operand) : Expression(Span);

/// <summary>An operator between its operands; <paramref name="OperatorSpan"/> is the sign's place.</summary>
public sealed record BinaryExpression(
    TextSpan Span,
    Operator Operator,
    Expression Left,
    Expression Right,
    TextSpan OperatorSpan
) : Expression(Span);

/// <summary>An expression in parentheses.</summary>
public sealed record ParenthesizedExpression(TextSpan Span, Expression Inner) : Expression(Span);

/// <summary>What is where an expression was wanted and is none; the fault says why.</summary>
public sealed record FaultyExpression(TextSpan Span, ExpressionFault Fault) : Expression(Span);

/// <summary>Why a text is no expression.</summary>
public enum ExpressionFault
{
    /// <summary>Nothing is where a value is wanted.</summary>
    Missing,

    /// <summary>A parenthesis is not closed.</summary>
    Unclosed,

    /// <summary>Something that starts no value is where one is wanted.</summary>
    Unexpected,

    /// <summary>More than 256 levels of nesting, or more than 1,000 operators.</summary>
    TooDeep,
}
