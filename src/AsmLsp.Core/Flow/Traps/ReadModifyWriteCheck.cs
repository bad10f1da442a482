using AsmLsp.Core.Flow.Checks;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Flow.Traps;

/// <summary>
/// A bit of a port is changed while other pins of the port are switched between input and output: the instruction reads all pins and writes
/// them back, so that the output latch of an input takes the level of its pin (data sheet DS35007B, section 4.1, and DS30292C, section 3.1).
/// One note a port: with loads that let the pins follow, such a program works.
/// </summary>
internal sealed class ReadModifyWriteCheck : TrapCheck
{
    public override void Run(TrapContext context, FlowReport report)
    {
        foreach (PortUse use in context.Ports.All)
        {
            if (use.SwitchedByBit == 0)
                continue;
            foreach (int at in context.UsesOf(use.Port.Address))
            {
                RegisterAccess access = context.AccessAt(at);
                if (!context.IsLive(at) || !access.IsCertain || !access.Reads || !access.Writes)
                    continue;
                int others = SwitchedBothWays(context, use) & ~access.Mask;
                // Who sets the latch right before each switch of the direction knows about it.
                if (others == 0 || PreparesLatch(context, use, others))
                    continue;
                report.Add(
                    Catalogue.ReadModifyWrite,
                    context.Graph,
                    at,
                    use.Port.Name,
                    use.Pin(int.TrailingZeroCount(others))
                );
                break;
            }
        }
    }

    private static int SwitchedBothWays(TrapContext context, PortUse use)
    {
        int set = 0,
            cleared = 0;
        foreach (int at in context.UsesOf(use.Direction.Address))
            if (context.NameAt(at) == "bsf")
                set |= context.AccessAt(at).Mask;
            else if (context.NameAt(at) == "bcf")
                cleared |= context.AccessAt(at).Mask;
        return set & cleared;
    }

    private static bool PreparesLatch(TrapContext context, PortUse use, int pins)
    {
        int prepared = 0;
        foreach (int at in context.UsesOf(use.Direction.Address))
        {
            if (context.NameAt(at) != "bcf")
                continue;
            int mask = context.AccessAt(at).Mask;
            for (int i = at - 4; i <= at + 4; i++)
                if (
                    context.NameAt(i) is "bcf" or "bsf"
                    && context.AccessAt(i) is { } access
                    && access.Register == use.Port.Address
                    && access.Mask == mask
                )
                    prepared |= mask;
        }

        return (pins & ~prepared) == 0;
    }
}
