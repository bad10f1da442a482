using AsmLsp.Core.Flow.Checks;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Flow.Traps;

/// <summary>
/// A flag that caused an interrupt is still set when the handler returns: the same interrupt comes again at once, for ever. Data sheet
/// DS35007B, section 6.8: the flag bit must be cleared in software before interrupts are allowed again.
/// </summary>
internal sealed class InterruptFlagCheck : TrapCheck
{
    // Cleared by reading or writing the data register (DS30292C, sections 10.2 and 3.5), or by the flags of the single pins (DS41585A, section 13).
    private static readonly string[] ClearedByData = ["RCIF", "TXIF", "PSPIF", "IOCIF"];

    public override void Run(TrapContext context, FlowReport report)
    {
        if (
            context.Graph.Calls.Interrupt is not { } handler
            || context.HasWildJump
            || handler.IsOpaque
            || handler.CallsUnknown
            || context.InMain[handler.Address]
            || context.Interrupts.EnabledAt < 0
            || !handler.Words.Exists(at => context.NameAt(at) == "retfie")
        )
            return;
        foreach (InterruptSource source in context.Interrupts.Enabled)
        {
            if (ClearedByData.Any(name => source.Flag.EndsWith(name, StringComparison.Ordinal)))
                continue;
            if (!IsSurelyEnabled(context, source))
                continue;
            if (!ClearsAnywhere(context, source))
                report.Add(
                    Catalogue.InterruptFlagLeft,
                    context.Graph,
                    InterruptContextCheck.FirstWord(context, handler.Address),
                    source.Flag,
                    "nothing in the handler clears it"
                );
            else if (LeavesSet(context, handler, source) is { } exit)
                report.Add(
                    Catalogue.InterruptFlagLeft,
                    context.Graph,
                    exit,
                    source.Flag,
                    "one path to this RETFIE does not clear it"
                );
        }
    }

    private static bool IsSurelyEnabled(TrapContext context, InterruptSource source)
    {
        foreach (int at in context.UsesOf(source.EnableRegister))
            if (context.IsLive(at) && context.Interrupts.Sets(at, source.EnableRegister, source.EnableMask).Certain)
                return true;
        return false;
    }

    private static bool ClearsAnywhere(TrapContext context, InterruptSource source)
    {
        for (int at = 0; at < context.End; at++)
            if (context.InInterrupt[at] && Clears(context, at, source))
                return true;
        return context.WritesIndirectly;
    }

    // The flag itself, or its enable bit: what is not allowed any more does not come again.
    private static bool Clears(TrapContext context, int at, InterruptSource source) =>
        MayClear(context, at, source.FlagRegister, source.FlagMask)
        || MayClear(context, at, source.EnableRegister, source.EnableMask);

    private static bool MayClear(TrapContext context, int at, int register, int mask)
    {
        RegisterAccess access = context.AccessAt(at);
        if (!access.Writes || (access.Mask & mask) == 0)
            return false;
        if (access.Register != register)
            return access.Register < 0 && context.At(at)!.Value.First == (register & 0x7F);
        return context.NameAt(at) switch
        {
            "bsf" => false,
            "movwf" => context.Graph.StateAt(at).WBit(mask) != true,
            _ => true,
        };
    }

    // The RETFIE that a path reaches on which the flag is known to be set and is not cleared; null where there is none.
    private static int? LeavesSet(TrapContext context, RoutineBody handler, InterruptSource source)
    {
        FlowWalk walk = context.Graph.Walk;
        var open = new Stack<int>();
        foreach (int at in handler.Words)
            if (WhereSet(context, at, source) is { } set)
                open.Push(set);
        if (open.Count == 0)
        {
            // Without a test the handler means its only source.
            if (context.Interrupts.Enabled.Length != 1)
                return null;
            open.Push(handler.Address);
        }

        HashSet<int> clearing = context.RoutinesWith(at => Clears(context, at, source));
        var seen = new HashSet<int>();
        var next = new List<int>();
        while (open.TryPop(out int at))
        {
            if (!seen.Add(at) || context.At(at) is not { } decoded || Clears(context, at, source))
                continue;
            if (decoded.Instruction.Name == "retfie")
                return at;
            if (decoded.Instruction.IsReturn)
                continue;
            if (decoded.Instruction.IsCall && MayClearInside(context, at, clearing))
                continue;
            if (WhereSet(context, at, source) is { } only)
            {
                open.Push(only);
                continue;
            }

            walk.Successors(at, next);
            foreach (int to in next)
                open.Push(to);
        }

        return null;
    }

    // Where a test of the flag continues when the flag is set.
    private static int? WhereSet(TrapContext context, int at, InterruptSource source)
    {
        RegisterAccess access = context.AccessAt(at);
        if (access.Register != source.FlagRegister || access.Mask != source.FlagMask || access.Writes)
            return null;
        return context.NameAt(at) switch
        {
            "btfss" => context.Graph.Walk.Next(at + 2),
            "btfsc" => context.Graph.Walk.Next(at + 1),
            _ => null,
        };
    }

    private static bool MayClearInside(TrapContext context, int call, HashSet<int> clearing) =>
        !context.Graph.Calls.Routines.TryGetValue(context.Graph.Walk.TargetOf(call), out RoutineBody? routine)
        || clearing.Contains(routine.Address)
        || !routine.MayReturn;
}
