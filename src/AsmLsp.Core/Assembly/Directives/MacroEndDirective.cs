using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Assembly.Directives;

/// <summary><c>endm</c> without its macro; the one that closes a macro is taken with the body.</summary>
internal sealed class MacroEndDirective : Directive
{
    public override IReadOnlyList<string> Words { get; } = ["endm"];

    public override string Usage => "endm";

    public override string Summary => "Ends the lines of a macro.";

    public override void Execute(AssemblyPass pass, in EffectiveLine line)
    {
        pass.Report(Catalogue.BlockNotOpened, line.OperationPlace, line.Via, line.Syntax.Operation!, "'macro'");
    }
}
