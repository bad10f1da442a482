using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Assembly.Directives;

/// <summary><c>__idlocs</c>: the four ID words.</summary>
internal sealed class IdWordsDirective : Directive
{
    public override IReadOnlyList<string> Words { get; } = ["__idlocs"];

    public override string Usage => "__idlocs 0x1234";

    public override string Summary =>
        "Puts the four digits of a hexadecimal number into the four ID words of the chip, the first digit at 0x2000.";

    public override bool IsOddAfterLabel => true;

    public override void Execute(AssemblyPass pass, in EffectiveLine line)
    {
        Value value = ValueAt(pass, line, 0, "a number of four hexadecimal digits");
        Operands.ReportSurplus(pass, line, 1, "one number");
        if (!value.IsKnown)
            return;
        int id = Operands.Cut(pass, line, line.Syntax.Operands[0].Span, value.Number, 16);
        for (int i = 0; i < 4; i++)
            pass.Placer.PlaceAt(0x2000 + i, (id >> (12 - 4 * i)) & 0xF, line);
    }
}
