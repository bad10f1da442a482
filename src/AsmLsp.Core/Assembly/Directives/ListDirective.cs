using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Assembly.Directives;

/// <summary><c>list</c>: the chip and the radix, beside much that only concerned the printing.</summary>
internal sealed class ListDirective : Directive
{
    public override IReadOnlyList<string> Words { get; } = ["list"];

    public override string Usage => "list p=16f84a, r=dec";

    public override string Summary =>
        "Names the chip (p=) and the base of bare numbers (r=). Other parts concerned the printing of listings and have no effect.";

    public override bool KeepsOperands => true;

    public override bool IsOddAfterLabel => true;

    public override void Execute(AssemblyPass pass, in EffectiveLine line)
    {
        LineSyntax syntax = line.Syntax;
        foreach (OperandSyntax operand in syntax.Operands)
        {
            // Several parts may also are side by side without a comma: 'list p=16f84 r=dec'.
            int at = operand.FirstToken;
            while (at < operand.EndToken)
            {
                if (syntax.Tokens[at].Kind != TokenKind.Name)
                {
                    at++;
                    continue;
                }

                int key = at++;
                while (at < operand.EndToken && syntax.Tokens[at].Kind == TokenKind.Blank)
                    at++;
                if (at >= operand.EndToken || syntax.SpanOf(at) is not "=")
                    continue;
                at++;
                while (at < operand.EndToken && syntax.Tokens[at].Kind == TokenKind.Blank)
                    at++;
                int from = at;
                while (at < operand.EndToken && syntax.Tokens[at].Kind != TokenKind.Blank)
                    at++;
                if (from == at)
                    continue;
                var span = TextSpan.FromBounds(syntax.Tokens[from].Start, syntax.Tokens[at - 1].End);
                Part(
                    pass,
                    line,
                    syntax.TextOf(key),
                    Operands.Unquoted(syntax.Text.Substring(span.Start, span.Length)),
                    span
                );
            }
        }
    }

    private static void Part(AssemblyPass pass, in EffectiveLine line, string key, string value, TextSpan span)
    {
        if (
            key.Equals("p", StringComparison.OrdinalIgnoreCase)
            || key.Equals("processor", StringComparison.OrdinalIgnoreCase)
        )
            pass.Chip.Name(value, line.Place(span), line.Via);
        else if (
            key.Equals("r", StringComparison.OrdinalIgnoreCase)
            || key.Equals("radix", StringComparison.OrdinalIgnoreCase)
        )
            RadixDirective.Set(pass, line, value, span);
    }
}
