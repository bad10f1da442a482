using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Assembly.Directives;

/// <summary><c>dw</c>, <c>data</c>, <c>dat</c>: plain words.</summary>
internal sealed class DwDirective : Directive
{
    public override IReadOnlyList<string> Words { get; } = ["dw", "data", "dat"];

    public override string Usage => "dw value,value";

    public override string Summary => "Places plain words of 14 bits.";

    public override void Execute(AssemblyPass pass, in EffectiveLine line)
    {
        if (line.Syntax.Operands.Length == 0)
            ValueAt(pass, line, 0, "a value");
        foreach (OperandSyntax operand in line.Syntax.Operands)
        {
            if (operand.Value is TextExpression text)
            {
                List<char> inside = pass.Evaluator.Inside(text, line);
                if (inside.Count != 1)
                    pass.Report(
                        Catalogue.UnclearData,
                        line.Place(operand.Span),
                        line.Via,
                        "Printed listings do not agree on how 'dw' packs text. Here each character makes one word."
                    );
                foreach (char c in inside)
                    pass.Placer.Place(pass.Evaluator.Character(c, text.Span, line), line);
                Operands.ReportLeftover(pass, line, operand);
                continue;
            }

            if (operand.Span.Length == 0)
            {
                pass.Report(
                    Catalogue.MissingOperand,
                    line.Place(operand.Span),
                    line.Via,
                    line.Syntax.Operation!,
                    "a value between its commas",
                    Usage
                );
                continue;
            }

            Value value = pass.Evaluate(operand.Value, line);
            Operands.ReportLeftover(pass, line, operand);
            pass.Placer.Place(value.IsKnown ? Operands.Cut(pass, line, operand.Span, value.Number, 14) : 0, line);
        }
    }
}
