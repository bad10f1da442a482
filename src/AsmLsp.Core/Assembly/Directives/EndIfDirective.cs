using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Assembly.Directives;

/// <summary><c>endif</c>: closes a choice.</summary>
internal sealed class EndIfDirective : Directive
{
    public override IReadOnlyList<string> Words { get; } = ["endif", "#endif"];

    public override string Usage => "endif";

    public override string Summary => "Ends the lines that a condition governs.";

    public override bool RunsWhileSkipping => true;

    public override void Execute(AssemblyPass pass, in EffectiveLine line)
    {
        if (!pass.Conditions.IsSkippedAround)
            Operands.ReportText(pass, line);
        if (!pass.Conditions.TryClose(pass.ConditionFloor, line.OperationPlace))
            pass.Report(Catalogue.BlockNotOpened, line.OperationPlace, line.Via, line.Syntax.Operation!, "'if'");
    }
}
