using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Assembly.Directives;

/// <summary><c>da</c>: two 7-bit characters a word.</summary>
internal sealed class DaDirective : Directive
{
    public override IReadOnlyList<string> Words { get; } = ["da"];

    public override string Usage => "da \"text\"";

    public override string Summary =>
        "Places text, two characters of 7 bits in each word, the first in the upper half.";

    public override void Execute(AssemblyPass pass, in EffectiveLine line)
    {
        if (line.Syntax.Operands.Length == 0)
            ValueAt(pass, line, 0, "a text");
        foreach (Syntax.OperandSyntax operand in line.Syntax.Operands)
        {
            if (operand.Value is not Syntax.TextExpression text)
            {
                Value value = pass.Evaluate(operand.Value, line);
                Operands.ReportLeftover(pass, line, operand);
                pass.Placer.Place(value.IsKnown ? Operands.Cut(pass, line, operand.Span, value.Number, 14) : 0, line);
                continue;
            }

            List<char> inside = pass.Evaluator.Inside(text, line);
            Operands.ReportLeftover(pass, line, operand);
            if (inside.Count % 2 != 0)
                pass.Report(
                    Catalogue.UnclearData,
                    line.Place(operand.Span),
                    line.Via,
                    "The text has an odd number of characters. Printed listings do not agree on what fills the last half word. Here it is 0."
                );
            for (int i = 0; i < inside.Count; i += 2)
            {
                int first = pass.Evaluator.Character(inside[i], text.Span, line) & 0x7F;
                int second = i + 1 < inside.Count ? pass.Evaluator.Character(inside[i + 1], text.Span, line) & 0x7F : 0;
                pass.Placer.Place((first << 7) | second, line);
            }
        }
    }
}
