namespace AsmLsp.Core.Assembly.Directives;

/// <summary>Directives that concerned the printing of listings or somebody's own message numbers: read, without effect.</summary>
internal sealed class PageLayoutDirective : Directive
{
    public override IReadOnlyList<string> Words { get; } =
    ["title", "subtitle", "stitle", "subtitl", "page", "space", "nolist", "expand", "noexpand", "errorlevel"];

    public override string Usage => "title \"text\"";

    public override string Summary =>
        "Concerned the printing of listings, or which messages were shown; it has no effect on the program.";

    public override bool KeepsOperands => true;

    public override bool IsOddAfterLabel => true;

    public override void Execute(AssemblyPass pass, in EffectiveLine line) { }
}
