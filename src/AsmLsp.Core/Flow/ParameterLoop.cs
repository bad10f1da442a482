using AsmLsp.Core.Execution;

namespace AsmLsp.Core.Flow;

/// <summary>
/// Finds loops whose time grows with a counter that is not known, so that a counter of 1 is the shortest and one of 256 the longest: DECFSZ, a
/// jump back, and nothing else in between that touches the counter.
/// </summary>
internal static class ParameterLoop
{
    private const int LongestLoop = 64;

    /// <summary>Whether the DECFSZ at an address counts such a loop.</summary>
    public static bool CounterOf(FlowWalk walk, CallGraph calls, int at)
    {
        DecodedStep step = walk.StepAt(at);
        if (step is not { Operation: Operation.Decfsz, Second: 1 } || !walk.Has(at + 1))
            return false;
        if (walk.StepAt(at + 1).Operation != Operation.Goto)
            return false;
        int head = walk.TargetOf(at + 1);
        if (head == FlowWalk.None || head > at || at - head > LongestLoop)
            return false;
        for (int i = head; i < at; i++)
        {
            if (!walk.Has(i))
                return false;
            DecodedStep inside = walk.StepAt(i);
            if (Touches(inside, step.First) || FlowWalk.WritesProgramCounter(inside))
                return false;
            switch (inside.Operation)
            {
                case Operation.Return or Operation.Retlw or Operation.Retfie or Operation.None:
                    return false;
                case Operation.Goto when walk.TargetOf(i) < head || walk.TargetOf(i) > at:
                    return false;
                case Operation.Call when Touches(walk, calls, walk.TargetOf(i), step.First):
                    return false;
            }
        }

        return true;
    }

    private static bool Touches(FlowWalk walk, CallGraph calls, int target, int register)
    {
        var seen = new HashSet<int>();
        var open = new Stack<int>();
        open.Push(target);
        while (open.TryPop(out int at))
        {
            if (!seen.Add(at))
                continue;
            if (!calls.Routines.TryGetValue(at, out RoutineBody? routine) || routine.IsOpaque)
                return true;
            foreach (int word in routine.Words)
                if (Touches(walk.StepAt(word), register))
                    return true;
            foreach ((_, int inner) in routine.Calls)
                open.Push(inner);
        }

        return false;
    }

    private static bool Touches(in DecodedStep step, int register) =>
        step.TakesRegister && (step.First == register || (step.First == DataSpace.Indirect && step.WrittenBits != 0));
}
