using AsmLsp.Core.Devices;
using AsmLsp.Core.Flow.Checks;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Flow.Traps;

/// <summary>
/// The watchdog is on, and a loop that never ends holds no CLRWDT; or only the interrupt clears it, so that a main program that hangs is
/// never noticed. A lone 'goto $' is a usual way to let the watchdog reset the chip.
/// </summary>
internal sealed class WatchdogLoopCheck : TrapCheck
{
    public override void Run(TrapContext context, FlowReport report)
    {
        if (
            ConfigurationPlace.Of(context.Graph, ConfigRole.Watchdog) is not { Setting.State: ConfigState.On } watchdog
            || context.HasWildJump
            || context.Graph.Calls.Main is not { CallsUnknown: false, IsOpaque: false } main
        )
            return;
        bool inMain = false,
            inInterrupt = false;
        for (int at = 0; at < context.End; at++)
        {
            if (context.NameAt(at) is not ("clrwdt" or "sleep"))
                continue;
            inMain |= context.InMain[at];
            inInterrupt |= context.InInterrupt[at];
        }

        if (inInterrupt && !inMain)
        {
            report.Add(Catalogue.WatchdogInInterrupt, watchdog.Place, null);
            return;
        }

        // An interrupt that clears it keeps every loop alive; without any CLRWDT the problem is another.
        if (inInterrupt || !inMain)
            return;
        HashSet<int> clearing = context.RoutinesWith(at => IsClear(context, at));
        EndlessLoop(context, main, clearing, report);
        foreach (RoutineBody routine in context.Graph.Calls.Routines.Values)
            if (
                context.InMain[routine.Address] && routine is { IsOpaque: false, CallsUnknown: false, MayReturn: false }
            )
                EndlessLoop(context, routine, clearing, report);
    }

    // Words from which the path leads nowhere but among themselves: what is left when all that can get away or clear it is taken
    // out, and then all that only leads into the rest.
    private static void EndlessLoop(TrapContext context, RoutineBody body, HashSet<int> clearing, FlowReport report)
    {
        FlowWalk walk = context.Graph.Walk;
        var before = new Dictionary<int, List<int>>();
        var next = new List<int>();
        var open = new Stack<int>();
        var left = new HashSet<int>(body.Words);
        foreach (int at in body.Words)
        {
            Successors(at);
            if (next.Count == 0 || Clears(context, at, clearing))
                open.Push(at);
            foreach (int to in next)
            {
                if (!before.TryGetValue(to, out List<int>? from))
                    before.Add(to, from = []);
                from.Add(at);
            }
        }

        while (open.TryPop(out int at))
            if (left.Remove(at) && before.TryGetValue(at, out List<int>? from))
                foreach (int earlier in from)
                    open.Push(earlier);
        foreach (int at in left)
            if (!LedTo(at))
                open.Push(at);
        while (open.TryPop(out int at))
        {
            if (!left.Remove(at))
                continue;
            Successors(at);
            foreach (int to in next)
                if (left.Contains(to) && !LedTo(to))
                    open.Push(to);
        }

        if (left.Count > 1 && context.IsLive(left.Min()))
            report.Add(Catalogue.WatchdogNotInLoop, context.Graph, left.Min());

        bool LedTo(int address) => before.TryGetValue(address, out List<int>? from) && from.Exists(left.Contains);

        void Successors(int at)
        {
            walk.Successors(at, next);
            // A call of a routine that does not return ends here.
            if (
                context.At(at) is { Instruction.IsCall: true }
                && context.Graph.Calls.Routines.TryGetValue(walk.TargetOf(at), out RoutineBody? called)
                && !called.MayReturn
            )
                next.Clear();
        }
    }

    private static bool IsClear(TrapContext context, int at) => context.NameAt(at) is "clrwdt" or "sleep";

    private static bool Clears(TrapContext context, int at, HashSet<int> clearing)
    {
        if (IsClear(context, at))
            return true;
        if (context.At(at) is not { Instruction.IsCall: true })
            return false;
        int target = context.Graph.Walk.TargetOf(at);
        return !context.Graph.Calls.Routines.ContainsKey(target) || clearing.Contains(target);
    }
}
