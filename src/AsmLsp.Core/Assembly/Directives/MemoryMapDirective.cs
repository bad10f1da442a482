namespace AsmLsp.Core.Assembly.Directives;

/// <summary><c>__maxram</c>, <c>__badram</c>: somebody's description of the chip's registers; the tool has its own.</summary>
internal sealed class MemoryMapDirective : Directive
{
    public override IReadOnlyList<string> Words { get; } = ["__maxram", "__badram"];

    public override string Usage => "__maxram address";

    public override string Summary =>
        "Describes the chip's registers. Read and left aside: the facts of the chip are known here.";

    public override bool IsOddAfterLabel => true;

    public override void Execute(AssemblyPass pass, in EffectiveLine line) { }
}
