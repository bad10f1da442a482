using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Assembly.Directives;

/// <summary><c>endw</c> without its loop; the one that closes a loop is taken with the body.</summary>
internal sealed class WhileEndDirective : Directive
{
    public override IReadOnlyList<string> Words { get; } = ["endw", "#endw"];

    public override string Usage => "endw";

    public override string Summary => "Ends the lines that 'while' repeats.";

    public override void Execute(AssemblyPass pass, in EffectiveLine line)
    {
        pass.Report(Catalogue.BlockNotOpened, line.OperationPlace, line.Via, line.Syntax.Operation!, "'while'");
    }
}
