using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Assembly.Directives;

/// <summary><c>exitm</c>: leaves the macro.</summary>
internal sealed class ExitMacroDirective : Directive
{
    public override IReadOnlyList<string> Words { get; } = ["exitm"];

    public override string Usage => "exitm";

    public override string Summary => "Leaves out the rest of the macro's lines in this call.";

    public override void Execute(AssemblyPass pass, in EffectiveLine line)
    {
        Operands.ReportText(pass, line);
        if (line.Via is null)
            pass.Report(Catalogue.BlockNotOpened, line.OperationPlace, line.Via, line.Syntax.Operation!, "'macro'");
        else
            pass.Cursor.Leave();
    }
}
