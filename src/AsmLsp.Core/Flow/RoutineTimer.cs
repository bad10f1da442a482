using AsmLsp.Core.Instructions;

namespace AsmLsp.Core.Flow;

/// <summary>
/// Counts the instruction cycles of a routine by carrying it out with what is known: constants that it loads, counters that it
/// counts down. Where a way depends on something unknown both ways are counted. Cycles: data sheet DS35007B, table 7-2.
/// </summary>
internal sealed class RoutineTimer
{
    private const int MostSteps = 200_000,
        MostForks = 12,
        DeepestCall = 16;

    // The counting instruction itself reads and writes its register.
    private const int TouchesOfLap = 2;

    private readonly FlowGraph graph;
    private readonly FlowWalk walk;
    private int steps;

    private RoutineTimer(FlowGraph graph) => (this.graph, walk) = (graph, graph.Walk);

    /// <summary>The cycles to the return, that one included, or null where they cannot be counted.</summary>
    public static CycleRange? Time(FlowGraph graph, RoutineBody routine)
    {
        if (routine.IsOpaque || routine.Returns.Count == 0)
            return null;
        var registers = new TimedRegisters(graph, routine.Changed.Bank != 0);
        return new RoutineTimer(graph).Run(routine.Address, registers, [], 0, 0);
    }

    private CycleRange? Run(int at, TimedRegisters registers, List<int> stack, long cycles, int forks)
    {
        var laps = new Dictionary<int, Lap>();
        while (true)
        {
            if (++steps > MostSteps || !walk.Has(at) || walk.Decode(at) is not { } decoded)
                return null;
            Instruction instruction = decoded.Instruction;
            if (instruction.IsReturn)
            {
                cycles += 2;
                if (instruction.Name == "retlw")
                    registers.W = decoded.First;
                if (stack.Count == 0)
                    return new CycleRange(cycles, cycles);
                at = stack[^1];
                stack.RemoveAt(stack.Count - 1);
                continue;
            }

            if (instruction.IsCall || instruction.IsJump)
            {
                int target = walk.TargetOf(at);
                if (target == FlowWalk.None || stack.Count >= DeepestCall || target == at)
                    return null;
                if (instruction.IsCall)
                    stack.Add(at + 1);
                cycles += 2;
                at = target;
                continue;
            }

            if (FlowWalk.WritesProgramCounter(walk.StepAt(at)))
            {
                if (!Computed(ref at, registers, stack, ref cycles, out bool isDone))
                    return null;
                if (isDone)
                    return new CycleRange(cycles, cycles);
                continue;
            }

            if (instruction.Name is "decfsz" or "decf" && decoded.Second == 1)
                SkipLaps(laps, at, decoded.First, registers, ref cycles);
            bool? skips = registers.Step(decoded, at);
            if (!instruction.MaySkip)
            {
                cycles += instruction.Cycles;
                at++;
                continue;
            }

            if (skips is null)
            {
                if (forks >= MostForks)
                    return null;
                CycleRange? through = Run(at + 1, registers.Copy(), [.. stack], cycles + 1, forks + 1);
                CycleRange? over = through is null ? null : Run(at + 2, registers, stack, cycles + 2, forks + 1);
                return over is null
                    ? null
                    : new CycleRange(
                        Math.Min(through!.Value.Least, over.Value.Least),
                        Math.Max(through.Value.Most, over.Value.Most)
                    );
            }

            cycles += skips.Value ? 2 : 1;
            at += skips.Value ? 2 : 1;
        }
    }

    // A jump into a table whose entry is not known: countable where each entry returns with a constant.
    private bool Computed(ref int at, TimedRegisters registers, List<int> stack, ref long cycles, out bool isDone)
    {
        isDone = false;
        if (!walk.Tables.TryGetValue(at, out FlowWalk.Table? table))
            return false;
        cycles += 2;
        if (registers.W is { } offset)
        {
            at = table.IsAdded ? table.First + offset : table.First + ((offset - table.First) & 0xFF);
            return at < table.End;
        }

        if (table.CertainEnd != table.End)
            return false;
        for (int i = table.First; i < table.End; i++)
            if (walk.Decode(i) is not { Instruction.Name: "retlw" })
                return false;
        cycles += 2;
        isDone = stack.Count == 0;
        if (isDone)
            return true;
        at = stack[^1];
        stack.RemoveAt(stack.Count - 1);
        return true;
    }

    // When a counter comes by again with everything else as it was, all further laps take as long as the last one.
    private static void SkipLaps(Dictionary<int, Lap> laps, int at, int low, TimedRegisters registers, ref long cycles)
    {
        int key = registers.Key(low, at);
        if (key < 0 || registers.Value(key) is not { } value)
            return;
        int touches = registers.Touches(key);
        if (
            laps.TryGetValue(at, out Lap? before)
            && before.Touches + TouchesOfLap == touches
            && before.Value == ((value + 1) & 0xFF)
            && before.State.SameBut(registers, key)
        )
        {
            int left = (value == 0 ? 256 : value) - 1;
            cycles += left * (cycles - before.Cycles);
            registers.Set(key, 1);
            laps.Remove(at);
            return;
        }

        laps[at] = new Lap(cycles, value, touches, registers.Copy());
    }

    private sealed record Lap(long Cycles, int Value, int Touches, TimedRegisters State);
}
