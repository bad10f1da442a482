using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Assembly.Directives;

/// <summary><c>pagesel</c>: makes the page of an address the one that calls and jumps go to.</summary>
internal sealed class PageSelectDirective : Directive
{
    private const int PageLatch = 0x0A;

    public override IReadOnlyList<string> Words { get; } = ["pagesel"];

    public override string Usage => "pagesel routine";

    public override string Summary =>
        "Sets PCLATH for a call or jump to the address: nothing on chips of one page, one instruction on two, two on four (PCLATH,3 then PCLATH,4).";

    public override void Execute(AssemblyPass pass, in EffectiveLine line)
    {
        Value address = ValueAt(pass, line, 0, "an address");
        Operands.ReportSurplus(pass, line, 1, "one address");
        if (pass.Chip.Needed(line) is { } device)
            Select(pass, line, address.Number, device.ProgramPages);
    }

    /// <summary>The instructions that select the page of an address on a chip with a number of pages.</summary>
    public static void Select(AssemblyPass pass, in EffectiveLine line, int address, int pages)
    {
        if (pages > 1)
            pass.Placer.Place(BanksDirective.BitWord(PageLatch, 3, (address & 0x0800) != 0), line);
        if (pages > 2)
            pass.Placer.Place(BanksDirective.BitWord(PageLatch, 4, (address & 0x1000) != 0), line);
    }
}
