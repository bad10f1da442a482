using AsmLsp.Core.Flow.Checks;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Flow.Traps;

/// <summary>Interrupts are allowed and nothing handles them; or a handler is there and nothing ever allows interrupts.</summary>
internal sealed class InterruptHandlerCheck : TrapCheck
{
    public override void Run(TrapContext context, FlowReport report)
    {
        FlowWalk walk = context.Graph.Walk;
        RoutineBody? handler = context.Graph.Calls.Interrupt;
        if (context.HasWildJump || context.Graph.Calls.Main is not { } main)
            return;
        int vector = context.Device?.InterruptVector ?? 4;
        bool hasReturn = handler?.Words.Exists(at => context.NameAt(at) == "retfie") == true;
        if (!context.Interrupts.MayBeEnabled)
        {
            // A lone RETFIE is a safeguard.
            if (
                handler is { Words.Count: > 2 }
                && hasReturn
                && !context.InMain[vector]
                && !main.IsOpaque
                && !CallsUnknown(context)
            )
                report.Add(
                    Catalogue.InterruptsNeverEnabled,
                    context.Graph,
                    InterruptContextCheck.FirstWord(context, vector)
                );
            return;
        }

        int enable = context.Interrupts.EnabledAt;
        if (enable < 0 || FirstEnabled(context) is not { } source)
            return;
        if (!walk.Has(vector))
            report.Add(
                Catalogue.InterruptWithoutHandler,
                context.Graph,
                enable,
                source.Enable,
                Assembly.Show.Hex(vector),
                "nothing is placed there"
            );
        else if (context.InMain[vector] && !hasReturn)
            report.Add(
                Catalogue.InterruptWithoutHandler,
                context.Graph,
                enable,
                source.Enable,
                Assembly.Show.Hex(vector),
                "the main program runs through that address"
            );
    }

    private static bool CallsUnknown(TrapContext context)
    {
        foreach (RoutineBody routine in context.Graph.Calls.Routines.Values)
            if (routine.CallsUnknown)
                return true;
        return context.Graph.Calls.Main is { CallsUnknown: true };
    }

    private static InterruptSource? FirstEnabled(TrapContext context)
    {
        foreach (InterruptSource source in context.Interrupts.Enabled)
        foreach (int at in context.UsesOf(source.EnableRegister))
            if (context.IsLive(at) && context.Interrupts.Sets(at, source.EnableRegister, source.EnableMask).Certain)
                return source;
        return null;
    }
}
