using System.Collections.Concurrent;
using AsmLsp.Core.Execution;

namespace AsmLsp.Core.Flow;

/// <summary>A loop: a jump back, and what lies between.</summary>
/// <param name="Head">The address of its first word.</param>
/// <param name="Back">The address of the jump back.</param>
/// <param name="Lap">Cycles from its first word to the same word again; null where they cannot be counted.</param>
/// <param name="Whole">
/// Cycles from its first word to the first word outside, with the counters as the words in front of the loop load them; null where
/// they cannot be counted, or it never ends.
/// </param>
public sealed record LoopTime(int Head, int Back, CycleRange? Lap, CycleRange? Whole);

/// <summary>A selection: what a skip decides.</summary>
/// <param name="Meets">The address where both paths meet again.</param>
/// <param name="Cycles">Cycles from the skip to there.</param>
public sealed record SelectionTime(int Meets, CycleRange Cycles);

/// <summary>How long routines, calls, loops and selections of a program take, in instruction cycles; interrupts are not counted.</summary>
public sealed class PathTimes
{
    private const int LongestEntry = 16,
        LongestSelection = 96,
        MostMeetings = 8,
        CyclesOfCall = 2;

    private readonly FlowGraph graph;
    private readonly FlowWalk walk;
    private readonly ConcurrentDictionary<(int Address, int? W), CycleRange?> routines = [];

    internal PathTimes(FlowGraph graph) => (this.graph, walk) = (graph, graph.Walk);

    /// <summary>A call with what W holds there: from the call to the instruction after it; null where it cannot be counted.</summary>
    public CycleRange? Call(int address)
    {
        if (!walk.Has(address) || !graph.StateAt(address).IsReached || walk.StepAt(address).Operation != Operation.Call)
            return null;
        return graph.Calls.Routines.TryGetValue(walk.TargetOf(address), out RoutineBody? routine)
            ? Routine(routine, graph.StateAt(address).W)?.Plus(CyclesOfCall)
            : null;
    }

    /// <summary>The loop that a jump at an address closes, or null where it jumps forward, or is none.</summary>
    public LoopTime? Loop(int back)
    {
        if (!walk.Has(back) || graph.ReachOf(back) == Reach.None || walk.StepAt(back).Operation != Operation.Goto)
            return null;
        int head = walk.TargetOf(back);
        if (head == FlowWalk.None || head > back || !walk.Has(head))
            return null;
        bool IsOutside(int at) => at < head || at > back;
        int start = Entry(head);
        bool banks = ChangesBank(start, back);
        CycleRange? lap = PathTimer.Between(graph, head, at => at == head, banks, leaves: IsOutside);
        CycleRange? whole = PathTimer.Between(graph, start, at => IsOutside(at) && (at < start || at > head), banks);
        if (start < head && whole is { } all)
            whole = PathTimer.Between(graph, start, at => at == head, banks) is { IsExact: true } entry
                ? all.Plus(-entry.Least)
                : null;
        return new LoopTime(head, back, lap, whole);
    }

    /// <summary>From one instruction to another on all paths, or null where they cannot be counted.</summary>
    public CycleRange? Until(int from, int to) =>
        walk.Has(from) && walk.Has(to) ? PathTimer.Between(graph, from, at => at == to, banksChange: true) : null;

    /// <summary>From an instruction to the same one again, or null where it cannot be counted.</summary>
    public CycleRange? Lap(int head) => Until(head, head);

    /// <summary>The loops of the program in the order of their jumps.</summary>
    internal IEnumerable<int> LoopEnds()
    {
        for (int at = 0; at < walk.End; at++)
            if (
                walk.Has(at)
                && walk.Reached[at] != Reach.None
                && walk.StepAt(at).Operation == Operation.Goto
                && walk.TargetOf(at) is not FlowWalk.None and int head
                && head <= at
            )
                yield return at;
    }

    /// <summary>What the skip at an address decides, or null where its paths do not meet again nearby, or cannot be counted.</summary>
    public SelectionTime? Selection(int address)
    {
        if (!walk.Has(address) || graph.ReachOf(address) == Reach.None || !walk.StepAt(address).MaySkip)
            return null;
        SortedSet<int> through = Ahead(address + 1),
            over = Ahead(address + 2);
        through.IntersectWith(over);
        int tried = 0;
        foreach (int meets in through)
        {
            if (++tried > MostMeetings)
                break;
            // A path that ends without coming by there shows that it is not where all paths meet.
            if (PathTimer.Between(graph, address, at => at == meets, ChangesBank(address, meets)) is { } cycles)
                return new SelectionTime(meets, cycles);
        }

        return null;
    }

    internal CycleRange? Routine(RoutineBody routine, int? w = null) =>
        routines.GetOrAdd((routine.Address, w), _ => PathTimer.Routine(graph, routine, w));

    private bool ChangesBank(int first, int last)
    {
        for (int at = first; at <= last; at++)
        {
            if (!walk.Has(at))
                continue;
            DecodedStep step = walk.StepAt(at);
            if (StateChange.Of(step).Bank != 0)
                return true;
            if (
                step.Operation == Operation.Call
                && !(
                    graph.Calls.Routines.TryGetValue(walk.TargetOf(at), out RoutineBody? routine)
                    && routine.Changed.Bank == 0
                )
            )
                return true;
        }

        return false;
    }

    // The straight words in front of a loop, which load its counters.
    private int Entry(int head)
    {
        int start = head;
        while (head - start < LongestEntry && (start == head || !walk.HasLabel(start)) && walk.Has(start - 1))
        {
            DecodedStep before = walk.StepAt(start - 1);
            if (walk.EndsRun(start - 1) || before.MaySkip || before.Operation is Operation.Call or Operation.Sleep)
                break;
            // The word after a skip may not be executed.
            if (walk.Has(start - 2) && walk.StepAt(start - 2).MaySkip)
                break;
            start--;
        }

        return start;
    }

    private SortedSet<int> Ahead(int from)
    {
        var seen = new SortedSet<int>();
        var open = new Queue<int>();
        var next = new List<int>();
        open.Enqueue(from);
        while (open.TryDequeue(out int at) && seen.Count < LongestSelection)
        {
            if (!walk.Has(at) || !seen.Add(at))
                continue;
            walk.Successors(at, next);
            foreach (int to in next)
                if (to > from - 2)
                    open.Enqueue(to);
        }

        return seen;
    }
}
