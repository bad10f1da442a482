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
        EndlessLoop(context, main, report);
        foreach (RoutineBody routine in context.Graph.Calls.Routines.Values)
            if (
                context.InMain[routine.Address] && routine is { IsOpaque: false, CallsUnknown: false, MayReturn: false }
            )
                EndlessLoop(context, routine, report);
    }

    // Words from which the path leads nowhere but among themselves: found from the words that can still get away.
    private static void EndlessLoop(TrapContext context, RoutineBody body, FlowReport report)
    {
        FlowWalk walk = context.Graph.Walk;
        var before = new Dictionary<int, List<int>>();
        var next = new List<int>();
        var alive = new Stack<int>();
        var gets = new HashSet<int>();
        foreach (int at in body.Words)
        {
            Successors(at);
            if (next.Count == 0 || Clears(context, at))
                alive.Push(at);
            foreach (int to in next)
            {
                if (!before.TryGetValue(to, out List<int>? from))
                    before.Add(to, from = []);
                from.Add(at);
            }
        }

        while (alive.TryPop(out int at))
            if (gets.Add(at) && before.TryGetValue(at, out List<int>? from))
                foreach (int earlier in from)
                    alive.Push(earlier);
        int first = -1,
            words = 0;
        foreach (int at in body.Words)
        {
            if (gets.Contains(at) || !context.IsLive(at) || !IsInLoop(at))
                continue;
            words++;
            if (first < 0 || at < first)
                first = at;
        }

        if (words > 1)
            report.Add(Catalogue.WatchdogNotInLoop, context.Graph, first);

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

        // A word of the loop itself, not only one that leads to it.
        bool IsInLoop(int start)
        {
            var seen = new HashSet<int>();
            var open = new Stack<int>();
            open.Push(start);
            var steps = new List<int>();
            while (open.TryPop(out int at) && seen.Count < 4096)
            {
                walk.Successors(at, steps);
                foreach (int to in steps)
                {
                    if (to == start)
                        return true;
                    if (seen.Add(to))
                        open.Push(to);
                }
            }

            return false;
        }
    }

    private static bool Clears(TrapContext context, int at)
    {
        if (context.NameAt(at) is "clrwdt" or "sleep")
            return true;
        if (context.At(at) is not { Instruction.IsCall: true })
            return false;
        if (!context.Graph.Calls.Routines.TryGetValue(context.Graph.Walk.TargetOf(at), out RoutineBody? routine))
            return true;
        bool[] words = context.Closure(routine);
        for (int i = 0; i < words.Length; i++)
            if (words[i] && context.NameAt(i) is "clrwdt" or "sleep")
                return true;
        return false;
    }
}
