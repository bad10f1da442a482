using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Assembly.Directives;

/// <summary>The bytes of a list of values and texts: a text gives one byte a character, without an end mark.</summary>
internal static class ByteList
{
    /// <summary>The values in order; an unknown one is 0, so that the addresses after it stay right.</summary>
    public static List<int> Read(AssemblyPass pass, in EffectiveLine line, int bits)
    {
        var values = new List<int>();
        foreach (OperandSyntax operand in line.Syntax.Operands)
        {
            if (operand.Value is TextExpression text)
            {
                foreach (char c in pass.Evaluator.Inside(text, line))
                    values.Add(pass.Evaluator.Character(c, text.Span, line) & ((1 << bits) - 1));
                Operands.ReportLeftover(pass, line, operand);
                continue;
            }

            if (operand.Span.Length == 0)
            {
                // 'dt 1,2,' ends with a comma and no value: printed so by some authors, and it makes no word.
                pass.Report(
                    Catalogue.MissingOperand,
                    line.Place(operand.Span),
                    line.Via,
                    line.Syntax.Operation!,
                    "a value between its commas",
                    DirectiveList.Find(line.Syntax)!.Usage
                );
                continue;
            }

            if (
                operand.Value is LiteralExpression { Text: ['\'', .., '\''] } quoted
                && Literals.Read(quoted.Text, 16).Fault == LiteralFault.TooLong
            )
            {
                // Text in single quotes, as some authors write it in lists.
                foreach (char c in Literals.Unescape(quoted.Text.AsSpan(1, quoted.Text.Length - 2)))
                    values.Add(pass.Evaluator.Character(c, quoted.Span, line) & ((1 << bits) - 1));
                Operands.ReportLeftover(pass, line, operand);
                continue;
            }

            Value value = pass.Evaluate(operand.Value, line);
            Operands.ReportLeftover(pass, line, operand);
            values.Add(value.IsKnown ? Operands.Cut(pass, line, operand.Span, value.Number, bits) : 0);
        }

        return values;
    }
}
