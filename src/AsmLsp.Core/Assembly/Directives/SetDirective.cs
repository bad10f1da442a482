using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Assembly.Directives;

/// <summary><c>set</c> and <c>=</c>: give a name a value that may change further down.</summary>
internal sealed class SetDirective : Directive
{
    public override IReadOnlyList<string> Words { get; } = ["set", "="];

    public override string Usage => "name set value";

    public override string Summary => "Gives the name a value; a later line may give it another one.";

    public override bool UsesLabel => true;

    public override void Execute(AssemblyPass pass, in EffectiveLine line)
    {
        if (line.Syntax.Label is not { } name)
        {
            pass.Report(Catalogue.NameMissing, line.OperationPlace, line.Via, line.Syntax.Operation!);
            return;
        }

        Operands.ReportSurplus(pass, line, 1, "one value");
        pass.Assign(name, ValueAt(pass, line, 0, "a value"), line.Place(line.Syntax.LabelToken), line.Via);
    }
}
