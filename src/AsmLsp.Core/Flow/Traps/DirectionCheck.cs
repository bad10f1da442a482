using AsmLsp.Core.Flow.Checks;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Flow.Traps;

/// <summary>
/// A pin is set and cleared, or a port gets values that the program works out, but nothing ever makes an output of it: after reset all
/// pins are inputs (data sheet DS35007B, table 6-3). Clearing a port, or giving it a constant, is how many programs begin, and no sign of
/// an output; a pin that is only set is a note.
/// </summary>
internal sealed class DirectionCheck : TrapCheck
{
    public override void Run(TrapContext context, FlowReport report)
    {
        if (context.Device is not { } device || CallsUnknown(context))
            return;
        foreach (PortUse use in context.Ports.All)
        {
            if (use.MayBeOutput == 0 && FirstValue(context, use) is { } value)
            {
                report.Add(
                    Catalogue.DirectionNeverSet,
                    context.Graph,
                    value,
                    $"{use.Port.Name} is written, but all its pins stay inputs",
                    $"nothing clears a bit of {use.Direction.Name}",
                    "its pins outputs"
                );
                continue;
            }

            int set = use.SetByBit & ~use.MayBeOutput;
            for (int pin = 0; pin < 8; pin++)
            {
                if ((set & (1 << pin)) == 0 || device.InputOnlyPins.Contains(use.Pin(pin)))
                    continue;
                if (FirstSet(context, use, 1 << pin) is not { } at)
                    continue;
                bool isDriven = (use.ClearedByBit & (1 << pin)) != 0;
                string what = $"{use.Pin(pin)} is set{(isDriven ? " and cleared" : "")}, but it stays an input",
                    why = $"nothing clears bit {Assembly.Show.Decimal(pin)} of {use.Direction.Name}";
                if (isDriven)
                    report.Add(Catalogue.DirectionNeverSet, context.Graph, at, what, why, "the pin an output");
                else
                    report.AddNote(Catalogue.DirectionNeverSet, context.Graph, at, what, why, "the pin an output");
            }
        }
    }

    // A value that is worked out, or a change of what the port shows.
    private static int? FirstValue(TrapContext context, PortUse use)
    {
        foreach (int at in context.UsesOf(use.Port.Address))
        {
            if (!context.IsLive(at) || context.AccessAt(at) is not { IsCertain: true, Writes: true, Mask: 0xFF })
                continue;
            string name = context.NameAt(at);
            if (name == "clrf" || (name == "movwf" && context.Graph.StateAt(at).W is not null))
                continue;
            return at;
        }

        return null;
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
