using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Shapes;

/// <summary>Whether words have the shape of code.</summary>
internal static class CodeShape
{
    /// <summary>Whether a line is an operation of the language with operands of its shape.</summary>
    public static bool IsCode(LineSyntax syntax)
    {
        if (syntax.OperationToken < 0)
            return false;
        switch (syntax.OperationKind)
        {
            case OperationKind.Instruction when OperationWords.TakesNoOperand(syntax.SpanOf(syntax.OperationToken)):
                return syntax.OperandSpan.Length == 0;
            case OperationKind.Instruction:
                return syntax.Operands.Length is 1 or 2 && AreWhole(syntax);
            case OperationKind.Assignment:
                return syntax.LabelToken >= 0 && AreWhole(syntax);
            case OperationKind.Directive:
                return syntax.Keyword switch
                {
                    Keyword.Page or Keyword.NoList or Keyword.Expand => syntax.OperandSpan.Length == 0,
                    Keyword.List => syntax.OperandSpan.Length == 0
                        || syntax.OperandText.Contains('=', StringComparison.Ordinal),
                    Keyword.End => syntax.Operands.Length <= 1 && AreWhole(syntax),
                    _ => syntax.Has(WordTraits.FreeOperands) || AreWhole(syntax),
                };
            default:
                return false;
        }
    }

    /// <summary>Whether operation and operands are in columns: no sentence leaves so much room between two words.</summary>
    public static bool HasColumns(LineSyntax syntax)
    {
        const int leastRoom = 3;
        return IsCode(syntax)
            && syntax.OperandSpan.Length > 0
            && syntax.OperandSpan.Start - syntax.Tokens[syntax.OperationToken].End >= leastRoom;
    }

    private static bool AreWhole(LineSyntax syntax)
    {
        foreach (OperandSyntax operand in syntax.Operands)
        {
            if (operand.Leftover.Length > 0)
                return false;
            if (operand.Value is FaultyExpression { Fault: ExpressionFault.Unexpected })
                return false;
        }

        return true;
    }

    /// <summary>Whether operands hold a number with its unit: <c>rate = 100kHz</c> is a formula.</summary>
    public static bool HasUnit(string operands)
    {
        foreach (SyntaxToken token in Lexer.Lex(operands))
        {
            if (token.Kind != TokenKind.Number || operands[token.Start] == '0')
                continue;
            ReadOnlySpan<char> rest = operands.AsSpan(token.Start, token.Length).TrimStart("0123456789");
            if (
                rest.Length > 1
                && char.IsAsciiLetter(rest[0])
                && !rest.EndsWith("h", StringComparison.OrdinalIgnoreCase)
            )
                return true;
        }

        return false;
    }
}
