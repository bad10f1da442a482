using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Assembly.Directives;

/// <summary><c>equ</c>: gives a name a value, once.</summary>
internal sealed class EquDirective : Directive
{
    public override IReadOnlyList<string> Words { get; } = ["equ"];

    public override string Usage => "name equ value";

    public override string Summary => "Gives the name a value that stays the same in the whole program.";

    public override bool UsesLabel => true;

    public override void Execute(AssemblyPass pass, in EffectiveLine line)
    {
        if (line.Syntax.Label is not { } name)
        {
            pass.Report(Catalogue.NameMissing, line.OperationPlace, line.Via, line.Syntax.Operation!);
            return;
        }

        Operands.ReportSurplus(pass, line, 1, "one value");
        Value value = ValueAt(pass, line, 0, "a value");
        if (line.Syntax.Operands.Length > 0)
            DecimalEvidence.Check(pass, line, line.Syntax.Operands[0].Value);
        pass.Define(name, SymbolKind.Constant, value, line.Place(line.Syntax.LabelToken), line.Via);
    }
}
