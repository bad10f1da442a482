using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Assembly.Directives;

/// <summary><c>org</c>: continues at an address.</summary>
internal sealed class OrgDirective : Directive
{
    public override IReadOnlyList<string> Words { get; } = ["org"];

    public override string Usage => "org address";

    public override string Summary =>
        "The words that follow start at this address. It may be before or after what was placed so far.";

    public override bool UsesLabel => true;

    public override void Execute(AssemblyPass pass, in EffectiveLine line)
    {
        Value address = ValueAt(pass, line, 0, "an address");
        Operands.ReportSurplus(pass, line, 1, "one address");
        if (address.IsKnown)
        {
            if (address.Number is < 0 or > WordPlacer.LastAddress)
                pass.Report(
                    Catalogue.BadAddress,
                    line.Place(line.Syntax.Operands[0].Span),
                    line.Via,
                    Show.Hex(address.Number)
                );
            else
            {
                if (pass.Placer.IsData)
                    pass.Report(Catalogue.OrgInDataSection, line.OperationPlace, line.Via, Show.Hex(address.Number));
                pass.Placer.MoveTo(address.Number);
            }
        }

        // A label before 'org' names the place that it goes to.
        pass.DefineLabel(line);
    }
}
