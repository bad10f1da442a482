using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Assembly.Directives;

/// <summary><c>elseif</c>: another condition, where none before it held.</summary>
internal sealed class ElseIfDirective : Directive
{
    public override IReadOnlyList<string> Words { get; } = ["elseif", "#elseif"];

    public override string Usage => "elseif condition";

    public override string Summary => "The lines that follow count where no condition before held and this one does.";

    public override bool RunsWhileSkipping => true;

    public override void Execute(AssemblyPass pass, in EffectiveLine line)
    {
        switch (pass.Conditions.WantsElseIf(pass.ConditionFloor))
        {
            case null:
                pass.Report(Catalogue.BlockNotOpened, line.OperationPlace, line.Via, line.Syntax.Operation!, "'if'");
                break;
            case true:
                Operands.ReportSurplus(pass, line, 1, "one condition");
                pass.Conditions.ElseIf(Holds(pass, line), line.OperationPlace, NamesIn(line));
                break;
            default:
                pass.Conditions.ElseIf(false, line.OperationPlace);
                break;
        }
    }
}
