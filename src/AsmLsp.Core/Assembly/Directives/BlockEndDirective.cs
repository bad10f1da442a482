using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Assembly.Directives;

/// <summary><c>endc</c>: closes a block of variables.</summary>
internal sealed class BlockEndDirective : Directive
{
    public override IReadOnlyList<string> Words { get; } = ["endc"];

    public override string Usage => "endc";

    public override string Summary => "Closes a block of names that 'cblock' opened.";

    public override bool IsOddAfterLabel => true;

    public override void Execute(AssemblyPass pass, in EffectiveLine line)
    {
        Operands.ReportText(pass, line);
        if (pass.OpenBlock is null)
            pass.Report(Catalogue.BlockNotOpened, line.OperationPlace, line.Via, "endc", "'cblock'");
        pass.OpenBlock = null;
    }
}
