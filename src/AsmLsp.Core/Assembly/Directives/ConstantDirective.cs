using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Assembly.Directives;

/// <summary><c>constant</c>: gives names values, written after the word.</summary>
internal sealed class ConstantDirective : Directive
{
    public override IReadOnlyList<string> Words { get; } = ["constant"];

    public override string Usage => "constant name=value, name=value";

    public override string Summary => "Gives each name a value that stays the same in the whole program.";

    public override void Execute(AssemblyPass pass, in EffectiveLine line)
    {
        foreach ((string name, TextSpan span, OperandSyntax operand) in Operands.Names(pass, line))
            pass.Define(name, SymbolKind.Constant, ValueAfter(pass, line, operand), line.Place(span), line.Via);
    }

    /// <summary>The value after the <c>=</c> of <c>name=value</c>; 0 where only a name is.</summary>
    public static Value ValueAfter(AssemblyPass pass, in EffectiveLine line, OperandSyntax operand)
    {
        LineSyntax syntax = line.Syntax;
        for (int i = operand.FirstToken; i < operand.EndToken; i++)
        {
            if (syntax.Tokens[i].Kind != TokenKind.Operator || syntax.SpanOf(i) is not "=")
                continue;
            Expression value = ExpressionParser.Parse(
                syntax.Text,
                syntax.Tokens,
                i + 1,
                operand.EndToken,
                out int rest
            );
            Value result = pass.Evaluate(value, line);
            if (rest < operand.EndToken && value is not FaultyExpression)
            {
                TextSpan left = TextSpan.FromBounds(syntax.Tokens[rest].Start, operand.Span.End);
                if (left.Length > 0)
                    pass.Report(
                        Problems.Catalogue.TextAfterOperands,
                        line.Place(left),
                        line.Via,
                        syntax.Text.Substring(left.Start, left.Length)
                    );
            }

            return result;
        }

        return 0;
    }
}
