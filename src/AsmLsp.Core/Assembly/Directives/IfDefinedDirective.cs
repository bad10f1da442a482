using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Assembly.Directives;

/// <summary><c>ifdef</c>, <c>ifndef</c>: the lines that follow count only where a name is known, or is not.</summary>
internal sealed class IfDefinedDirective : Directive
{
    public override IReadOnlyList<string> Words { get; } = ["ifdef", "ifndef", "#ifdef", "#ifndef"];

    public override string Usage => "ifdef name";

    public override string Summary =>
        "The lines up to 'else' or 'endif' count only where the name is known above this line (ifndef: is not known).";

    public override bool RunsWhileSkipping => true;

    public override bool KeepsOperands => true;

    private static string Name(string operand)
    {
        int blank = operand.AsSpan().IndexOfAny(' ', '\t');
        return blank < 0 ? operand : operand[..blank];
    }

    private static void Rest(AssemblyPass pass, in EffectiveLine line)
    {
        Text.TextSpan all = line.Syntax.OperandSpan;
        int name = Name(line.Syntax.Operands[0].Text).Length;
        var rest = Text.TextSpan.FromBounds(all.Start + name, all.End);
        if (rest.Length > 0)
            pass.Report(
                Catalogue.TextAfterOperands,
                line.Place(rest),
                line.Via,
                line.Syntax.OperandText[name..].Trim()
            );
    }

    public override void Execute(AssemblyPass pass, in EffectiveLine line)
    {
        bool condition = false;
        IReadOnlyList<string> asked = [];
        if (!pass.Conditions.IsSkipping)
        {
            string name = line.Syntax.Operands.Length > 0 ? Name(line.Syntax.Operands[0].Text) : "";
            if (name.Length == 0)
                pass.Report(
                    Catalogue.MissingOperand,
                    line.OperationPlace,
                    line.Via,
                    line.Syntax.Operation!,
                    "a name",
                    Usage
                );
            if (line.Syntax.Operands.Length > 0)
                Rest(pass, line);
            if (name.Length > 0)
                asked = [name];
            bool negative = line.Syntax.Operation!.TrimStart('#').Equals("ifndef", StringComparison.OrdinalIgnoreCase);
            condition = name.Length > 0 && pass.IsDefined(name) != negative;
            if (pass.Symbols.TryGet(name, out Symbol? symbol))
                pass.NoteReference(symbol, line.Place(line.Syntax.Operands[0].Span), line.Via);
        }

        pass.Conditions.Open(line.OperationPlace, line.Syntax.Operation!, condition, asked);
    }
}
