namespace AsmLsp.Core.Assembly.Directives;

/// <summary><c>end</c>: the program ends here.</summary>
internal sealed class EndDirective : Directive
{
    public override IReadOnlyList<string> Words { get; } = ["end"];

    public override string Usage => "end";

    public override string Summary =>
        "Ends the program; whatever follows is not read. In an included file it ends that file.";

    public override void Execute(AssemblyPass pass, in EffectiveLine line)
    {
        Operands.ReportText(pass, line);
        if (pass.IsIncluded)
        {
            pass.Report(Problems.Catalogue.EndInInclude, line.OperationPlace, line.Via, line.File.ShortName);
            pass.FileEnded = true;
            return;
        }

        pass.Ended = true;
        pass.Unit.HasEnd = true;
    }
}
