using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Assembly.Directives;

/// <summary><c>code</c>: a section of the program.</summary>
internal sealed class CodeSectionDirective : Directive
{
    public override IReadOnlyList<string> Words { get; } = ["code"];

    public override string Usage => "name code address";

    public override string Summary =>
        "Starts a section of the program. Without an address the tool places it after everything that has one.";

    public override bool UsesLabel => true;

    public override void Execute(AssemblyPass pass, in EffectiveLine line) =>
        DataSectionDirective.Enter(pass, line, SectionKind.Code);
}
