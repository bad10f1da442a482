using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Assembly.Directives;

/// <summary><c>processor</c>: names the chip.</summary>
internal sealed class ProcessorDirective : Directive
{
    public override IReadOnlyList<string> Words { get; } = ["processor"];

    public override string Usage => "processor 16f84a";

    public override string Summary => "Names the chip that the program is for.";

    public override bool KeepsOperands => true;

    public override bool IsOddAfterLabel => true;

    public override void Execute(AssemblyPass pass, in EffectiveLine line)
    {
        string name = Operands.Unquoted(line.Syntax.OperandText);
        if (name.Length == 0)
            pass.Report(
                Catalogue.MissingOperand,
                line.OperationPlace,
                line.Via,
                line.Syntax.Operation!,
                "a chip",
                Usage
            );
        else
            pass.Chip.Name(name, line.Place(line.Syntax.OperandSpan), line.Via);
    }
}
