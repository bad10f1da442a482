using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Assembly.Directives;

/// <summary><c>else</c>: the lines for the case that the condition does not hold.</summary>
internal sealed class ElseDirective : Directive
{
    public override IReadOnlyList<string> Words { get; } = ["else", "#else"];

    public override string Usage => "else";

    public override string Summary => "The lines that follow count where no condition before held.";

    public override bool RunsWhileSkipping => true;

    public override void Execute(AssemblyPass pass, in EffectiveLine line)
    {
        if (!pass.Conditions.IsSkippedAround)
            Operands.ReportText(pass, line);
        if (!pass.Conditions.TryElse(pass.ConditionFloor, line.OperationPlace))
            pass.Report(Catalogue.BlockNotOpened, line.OperationPlace, line.Via, line.Syntax.Operation!, "'if'");
    }
}
