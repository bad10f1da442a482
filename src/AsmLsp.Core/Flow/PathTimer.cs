using AsmLsp.Core.Execution;

namespace AsmLsp.Core.Flow;

/// <summary>
/// Counts the instruction cycles from one place to another by executing what is known: constants that are loaded, counters that are
/// counted. Where a path depends on something unknown it forks; forks with the same state are one, so that the paths make a graph
/// of which the shortest and the longest are looked for. Cycles: data sheet DS35007B, table 7-2.
/// </summary>
internal sealed class PathTimer
{
    private const int MostSteps = 300_000,
        MostForks = 3000,
        DeepestCall = 16,
        Exit = 0;

    // The counting instruction itself reads and writes its register.
    private const int TouchesOfLap = 2;

    private readonly FlowGraph graph;
    private readonly FlowWalk walk;
    private readonly RegisterKeys keys;
    private readonly Predicate<int>? stops;
    private readonly Predicate<int>? leaves;
    private readonly List<Fork> forks = [];
    private readonly Dictionary<ForkKey, int> known = [];
    private int steps;
    private bool isStopped;
    private bool isExhausted;

    private PathTimer(FlowGraph graph, RegisterKeys keys, Predicate<int>? stops, Predicate<int>? leaves)
    {
        (this.graph, walk, this.keys, this.stops, this.leaves) = (graph, graph.Walk, keys, stops, leaves);
        // Number 0 is the end of all paths.
        forks.Add(new Fork(0, new TimedState(keys), []));
    }

    /// <summary>The cycles of a routine to its return, that one included; null where they cannot be counted.</summary>
    public static CycleRange? Routine(FlowGraph graph, RoutineBody routine, int? w = null)
    {
        if (routine.IsOpaque)
            return null;
        return Between(graph, routine.Address, null, routine.Changed.Bank != 0, w);
    }

    /// <summary>
    /// The cycles from an instruction to the first that <paramref name="stops"/> names, or to the return without it; null where they
    /// cannot be counted. Paths over what <paramref name="leaves"/> names do not count.
    /// </summary>
    public static CycleRange? Between(
        FlowGraph graph,
        int from,
        Predicate<int>? stops,
        bool banksChange,
        int? w = null,
        Predicate<int>? leaves = null
    )
    {
        // With less to remember more paths fall together: the least stays a lower limit, the most may be lost.
        foreach (
            TimingDetail detail in (ReadOnlySpan<TimingDetail>)
                [TimingDetail.All, TimingDetail.Counters, TimingDetail.None]
        )
        {
            var keys = new RegisterKeys(graph, banksChange, detail);
            var timer = new PathTimer(graph, keys, stops, leaves);
            CycleRange? counted = timer.Run(from, w);
            if (!timer.isExhausted)
                return counted;
        }

        return null;
    }

    private CycleRange? Run(int from, int? w)
    {
        (int to, long cycles)? first = Execute(from, new TimedState(keys) { W = w }, [], 0);
        if (isStopped || first is not { } begin)
            return null;
        for (int i = 1; i < forks.Count; i++)
        {
            Expand(forks[i]);
            isExhausted |= forks.Count > MostForks;
            if (isStopped || isExhausted)
                return null;
        }

        return Measure(begin.to, begin.cycles);
    }

    // Both outcomes of a skip, or every entry of a table, from the state that the fork has.
    private void Expand(Fork fork)
    {
        DecodedStep step = walk.StepAt(fork.At);
        if (FlowWalk.WritesProgramCounter(step))
        {
            FlowWalk.Table table = walk.Tables[fork.At];
            for (int entry = table.First; entry < table.CertainEnd && !isStopped; entry++)
            {
                TimedState state = fork.State.Copy();
                if (table.IsAdded)
                    state.W = entry - table.First;
                Follow(fork, entry, state, 2);
            }

            return;
        }

        if (
            ParameterLoop.CounterOf(walk, graph.Calls, fork.At)
            && keys.Of(step.First, fork.At, fork.State) is >= 0 and int key
        )
        {
            // The more laps the longer: 1 is the least, 0 the most (256).
            foreach (int laps in (ReadOnlySpan<int>)[1, 0])
            {
                TimedState state = fork.State.Copy();
                state.Set(key, laps);
                Follow(fork, fork.At, state, 0);
            }

            return;
        }

        foreach (bool skips in (ReadOnlySpan<bool>)[false, true])
        {
            TimedState state = fork.State.Copy();
            state.Step(step, fork.At);
            state.Skipped(step, fork.At, skips);
            Follow(fork, fork.At + (skips ? 2 : 1), state, skips ? 2 : 1);
        }
    }

    private void Follow(Fork fork, int at, TimedState state, int cycles)
    {
        if (Execute(at, state, [.. fork.Stack], cycles) is { } edge)
            fork.Edges.Add(edge);
    }

    // Executes up to the end or the next fork; null where the path never ends, or cannot be followed.
    private (int To, long Cycles)? Execute(int at, TimedState state, List<int> stack, long cycles)
    {
        var laps = new Dictionary<int, Lap>();
        var circle = new Circle();
        bool isFirst = cycles == 0;
        while (true)
        {
            if (!isFirst && stack.Count == 0 && stops?.Invoke(at) == true)
                return (Exit, cycles);
            isFirst = false;
            if (stack.Count == 0 && leaves?.Invoke(at) == true)
                return null;
            if (++steps > MostSteps)
            {
                isExhausted = true;
                return null;
            }

            if (!walk.Has(at))
                return Stop();
            DecodedStep step = walk.StepAt(at);
            switch (step.Operation)
            {
                case Operation.None:
                case Operation.Sleep:
                    return Stop();
                case Operation.Return:
                case Operation.Retlw:
                case Operation.Retfie:
                    cycles += 2;
                    if (step.Operation == Operation.Retlw)
                        state.W = step.First;
                    if (stack.Count == 0)
                        return stops is null ? (Exit, cycles) : Stop();
                    at = stack[^1];
                    stack.RemoveAt(stack.Count - 1);
                    continue;
                case Operation.Call:
                case Operation.Goto:
                {
                    int target = walk.TargetOf(at);
                    if (
                        step.Operation == Operation.Call
                        && target == walk.Device?.Calibration?.Address
                        && !walk.Has(target)
                    )
                    {
                        // The factory's RETLW.
                        (cycles, at, state.W) = (cycles + 4, at + 1, null);
                        continue;
                    }

                    if (target == FlowWalk.None || stack.Count >= DeepestCall)
                        return Stop();
                    if (step.Operation == Operation.Call)
                        stack.Add(at + 1);
                    else if (target <= at && circle.IsClosed(target, stack, state))
                        return null;
                    cycles += 2;
                    at = target;
                    continue;
                }
            }

            if (FlowWalk.WritesProgramCounter(step))
            {
                if (!walk.Tables.TryGetValue(at, out FlowWalk.Table? table))
                    return Stop();
                if (table.End - table.First == 1 && !table.IsAdded)
                {
                    (cycles, at) = (cycles + 2, table.First);
                    continue;
                }

                if (state.W is not { } index)
                    return table.CertainEnd > table.First ? ForkAt(at, state, stack, cycles) : Stop();
                cycles += 2;
                at = table.IsAdded ? table.First + index : table.First + ((index - table.First) & 0xFF);
                if (at >= table.End)
                    return Stop();
                continue;
            }

            if (
                step.Operation is Operation.Decfsz or Operation.Decf or Operation.Incfsz or Operation.Incf
                && step.Second == 1
            )
                SkipLaps(laps, at, step, state, ref cycles);
            bool skips = false;
            if (step.MaySkip)
            {
                if (state.WouldSkip(step, at) is not { } sure)
                    return ForkAt(at, state, stack, cycles);
                skips = sure;
            }

            state.Step(step, at);
            cycles += skips ? 2 : 1;
            at += skips ? 2 : 1;
        }
    }

    private (int To, long Cycles)? Stop()
    {
        isStopped = true;
        return null;
    }

    private (int To, long Cycles) ForkAt(int at, TimedState state, List<int> stack, long cycles)
    {
        int[] calls = [.. stack];
        var key = new ForkKey(at, state, calls);
        if (!known.TryGetValue(key, out int number))
        {
            known.Add(key, number = forks.Count);
            forks.Add(new Fork(at, state, calls));
        }

        return (number, cycles);
    }

    // The shortest path of all, and the longest, which has no limit where a circle lies on the way to the end.
    private CycleRange? Measure(int first, long cycles)
    {
        int count = forks.Count;
        var least = new long[count];
        Array.Fill(least, long.MaxValue);
        var reversed = new List<(int From, long Cycles)>[count];
        for (int i = 1; i < count; i++)
            foreach ((int to, long edge) in forks[i].Edges)
                (reversed[to] ??= []).Add((i, edge));
        var open = new PriorityQueue<int, long>();
        least[Exit] = 0;
        open.Enqueue(Exit, 0);
        while (open.TryDequeue(out int at, out long far))
        {
            if (far > least[at] || reversed[at] is not { } into)
                continue;
            foreach ((int from, long edge) in into)
                if (far + edge < least[from])
                    open.Enqueue(from, least[from] = far + edge);
        }

        if (least[first] == long.MaxValue)
            return null;
        long? most = Longest(first, least);
        return new CycleRange(cycles + least[first], most is { } longest ? cycles + longest : null);
    }

    private long? Longest(int first, long[] least)
    {
        var most = new long[forks.Count];
        var state = new byte[forks.Count];
        var open = new Stack<(int At, bool IsDone)>();
        open.Push((first, false));
        while (open.TryPop(out (int At, bool IsDone) at))
        {
            if (at.IsDone)
            {
                foreach ((int to, long edge) in forks[at.At].Edges)
                    if (least[to] != long.MaxValue)
                        most[at.At] = Math.Max(most[at.At], most[to] + edge);
                state[at.At] = 2;
                continue;
            }

            if (state[at.At] != 0)
                continue;
            state[at.At] = 1;
            open.Push((at.At, true));
            foreach ((int to, _) in forks[at.At].Edges)
            {
                // What never ends has no part in the longest path that does.
                if (least[to] == long.MaxValue || state[to] == 2)
                    continue;
                if (state[to] == 1)
                    return null;
                open.Push((to, false));
            }
        }

        return most[first];
    }

    // When a counter comes by again with everything else as it was, all further laps take as long as the last one.
    private void SkipLaps(Dictionary<int, Lap> laps, int at, in DecodedStep step, TimedState state, ref long cycles)
    {
        int key = keys.Of(step.First, at, state);
        if (state.Value(key) is not { } value)
            return;
        int touches = state.Touches(key);
        int by = step.Operation is Operation.Decfsz or Operation.Decf ? -1 : 1;
        if (
            laps.TryGetValue(at, out Lap? before)
            && before.Touches + TouchesOfLap == touches
            && before.Value == ((value - by) & 0xFF)
            && before.State.SameBut(state, key)
        )
        {
            int left = by < 0 ? (value == 0 ? 256 : value) - 1 : 0xFF - value;
            cycles += left * (cycles - before.Cycles);
            state.Set(key, by < 0 ? 1 : 0xFF);
            laps.Remove(at);
            return;
        }

        laps[at] = new Lap(cycles, value, touches, state.Copy());
    }

    private sealed record Lap(long Cycles, int Value, int Touches, TimedState State);

    private sealed record Fork(int At, TimedState State, int[] Stack)
    {
        public List<(int To, long Cycles)> Edges { get; } = [];
    }

    private readonly record struct ForkKey(int At, TimedState State, int[] Stack)
    {
        public bool Equals(ForkKey other) =>
            At == other.At && Stack.AsSpan().SequenceEqual(other.Stack) && State.Equals(other.State);

        public override int GetHashCode() => HashCode.Combine(At, Stack.Length, State);
    }

    // Recognizes a loop that comes back with all as it was, and so never ends: the state is compared with one from some laps ago, kept twice as long each time.
    private sealed class Circle
    {
        private TimedState? kept;
        private List<int> calls = [];
        private int at,
            count,
            limit = 1;

        public bool IsClosed(int target, List<int> stack, TimedState state)
        {
            if (kept is not null && target == at && calls.SequenceEqual(stack) && kept.Equals(state))
                return true;
            if (++count < limit)
                return false;
            (kept, at, calls, count, limit) = (state.Copy(), target, [.. stack], 0, limit * 2);
            return false;
        }
    }
}
