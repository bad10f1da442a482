using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Assembly.Directives;

/// <summary><c>res</c>: leaves room.</summary>
internal sealed class ResDirective : Directive
{
    public override IReadOnlyList<string> Words { get; } = ["res"];

    public override string Usage => "name res count";

    public override string Summary =>
        "Leaves room for a number of words, or of registers in a data section, without placing anything.";

    public override void Execute(AssemblyPass pass, in EffectiveLine line)
    {
        Operands.ReportSurplus(pass, line, 1, "one count");
        Value count = ValueAt(pass, line, 0, "a count");
        if (!count.IsKnown)
            return;
        if (count.Number is < 0 or > 0x4000)
        {
            pass.Report(
                Catalogue.TooManyWords,
                line.Place(line.Syntax.Operands[0].Span),
                line.Via,
                Show.Decimal(count.Number)
            );
            return;
        }

        if (line.Syntax.Label is { } name && pass.Symbols.TryGet(name, out Symbol? symbol) && pass.Placer.IsData)
            symbol.Size = count.Number;
        pass.Placer.Skip(count.Number);
    }
}
