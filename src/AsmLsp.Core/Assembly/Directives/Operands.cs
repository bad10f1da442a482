using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Assembly.Directives;

/// <summary>What directives and instructions share in reading operands.</summary>
internal static class Operands
{
    /// <summary>Reports what comes after an operand's expression.</summary>
    public static void ReportLeftover(AssemblyPass pass, in EffectiveLine line, OperandSyntax operand)
    {
        TextSpan rest = operand.Leftover;
        if (rest.Length == 0 || EndsFaulty(operand.Value))
            return;
        pass.Report(
            Catalogue.TextAfterOperands,
            line.Place(rest),
            line.Via,
            line.Syntax.Text.Substring(rest.Start, rest.Length)
        );
    }

    // What follows a faulty place is part of that fault, which is reported.
    private static bool EndsFaulty(Expression expression) =>
        expression switch
        {
            FaultyExpression => true,
            BinaryExpression binary => EndsFaulty(binary.Right),
            UnaryExpression unary => EndsFaulty(unary.Operand),
            _ => false,
        };

    /// <summary>Reports operands that are one too many.</summary>
    public static void ReportSurplus(AssemblyPass pass, in EffectiveLine line, int most, string takes)
    {
        var operands = line.Syntax.Operands;
        if (operands.Length <= most)
            return;
        TextSpan span = TextSpan.FromBounds(operands[most].Span.Start, operands[^1].Span.End);
        string text = line.Syntax.Text.Substring(span.Start, span.Length);
        if (most == 0)
            pass.Report(Catalogue.TextAfterOperands, line.Place(span), line.Via, text);
        else
            pass.Report(Catalogue.TooManyOperands, line.Place(span), line.Via, line.Syntax.Operation!, takes, text);
    }

    /// <summary>Reports whatever comes after a word that takes nothing: it would be lost without a sign.</summary>
    public static void ReportText(AssemblyPass pass, in EffectiveLine line)
    {
        TextSpan rest = line.Syntax.OperandSpan;
        if (rest.Length > 0)
            pass.Report(Catalogue.TextAfterOperands, line.Place(rest), line.Via, line.Syntax.OperandText);
    }

    /// <summary>A value cut to a number of bits; reported where it does not fit with or without a sign.</summary>
    public static int Cut(AssemblyPass pass, in EffectiveLine line, TextSpan span, int value, int bits)
    {
        int mask = (1 << bits) - 1;
        if (value > mask || value < -(1 << (bits - 1)))
            pass.Report(
                Catalogue.DataOutOfRange,
                line.Place(span),
                line.Via,
                Show.Hex(value),
                Show.Decimal(bits),
                Show.Hex(value & mask)
            );
        return value & mask;
    }

    /// <summary>An operand's text without the quotes or angle brackets around it.</summary>
    public static string Unquoted(string text)
    {
        text = text.Trim();
        if (text.Length >= 2 && (text[0], text[^1]) is ('"', '"') or ('<', '>') or ('\'', '\''))
            return text[1..^1];
        return text.Trim('"', '<', '>');
    }

    /// <summary>The names of a comma list, with their places; anything else is reported.</summary>
    public static IEnumerable<(string Name, TextSpan Span, OperandSyntax Operand)> Names(
        AssemblyPass pass,
        EffectiveLine line
    )
    {
        foreach (OperandSyntax operand in line.Syntax.Operands)
        {
            int first = operand.FirstToken;
            while (first < operand.EndToken && line.Syntax.Tokens[first].Kind == TokenKind.Blank)
                first++;
            if (first < operand.EndToken && line.Syntax.Tokens[first].Kind == TokenKind.Name)
                yield return (line.Syntax.TextOf(first), line.Syntax.Tokens[first].Span, operand);
            else
                pass.Report(Catalogue.BadName, line.Place(operand.Span), line.Via, operand.Text);
        }
    }
}
