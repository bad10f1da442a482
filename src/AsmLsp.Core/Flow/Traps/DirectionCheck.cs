using AsmLsp.Core.Flow.Checks;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Flow.Traps;

/// <summary>
/// A pin is set and cleared, but nothing ever makes it an output: after reset all pins are inputs (data sheet DS35007B, table 6-3). Clearing
/// alone, as many programs do at their start, is no sign of an output.
/// </summary>
internal sealed class DirectionCheck : TrapCheck
{
    public override void Run(TrapContext context, FlowReport report)
    {
        if (context.Device is not { } device || CallsUnknown(context))
            return;
        foreach (PortUse use in context.Ports.All)
        {
            int driven = use.SetByBit & use.ClearedByBit & ~use.MayBeOutput;
            for (int pin = 0; pin < 8; pin++)
            {
                if ((driven & (1 << pin)) == 0 || device.InputOnlyPins.Contains(use.Pin(pin)))
                    continue;
                if (FirstSet(context, use, 1 << pin) is not { } at)
                    continue;
                report.Add(
                    Catalogue.DirectionNeverSet,
                    context.Graph,
                    at,
                    use.Pin(pin),
                    use.Direction.Name,
                    Assembly.Show.Decimal(pin)
                );
            }
        }
    }

    private static bool CallsUnknown(TrapContext context)
    {
        if (context.HasWildJump || context.Graph.Calls.Main is null or { CallsUnknown: true })
            return true;
        foreach (RoutineBody routine in context.Graph.Calls.Routines.Values)
            if (routine.CallsUnknown)
                return true;
        return false;
    }

    private static int? FirstSet(TrapContext context, PortUse use, int mask)
    {
        foreach (int at in context.UsesOf(use.Port.Address))
            if (
                context.IsLive(at)
                && context.NameAt(at) == "bsf"
                && context.AccessAt(at) is { IsCertain: true } access
                && access.Mask == mask
            )
                return at;
        return null;
    }
}
