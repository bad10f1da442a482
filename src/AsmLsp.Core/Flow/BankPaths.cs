using AsmLsp.Core.Execution;

namespace AsmLsp.Core.Flow;

/// <summary>Why a bank may be selected at an instruction.</summary>
public enum BankReason
{
    /// <summary>Nothing selected another one since the reset.</summary>
    Reset,

    /// <summary>An instruction selects it.</summary>
    Instruction,

    /// <summary>A routine that was called leaves it selected.</summary>
    Call,

    /// <summary>An interrupt may come where it is selected, or leaves it selected.</summary>
    Interrupt,

    /// <summary>A jump of unknown aim may come from anywhere.</summary>
    UnknownJump,
}

/// <summary>One of the paths on which a bank is selected.</summary>
/// <param name="Bank">The bank, 0..3.</param>
/// <param name="Reason">Why it is selected.</param>
/// <param name="At">The address of the instruction, or call, that selects it; -1 where it is none.</param>
/// <param name="Through">The address of the last call on the path that leads into the routine, or -1 where there is none.</param>
public readonly record struct BankPath(int Bank, BankReason Reason, int At, int Through);

/// <summary>Finds, for each bank that may be selected at an instruction, the nearest instruction that selects it.</summary>
internal sealed class BankPaths
{
    private readonly FlowGraph graph;
    private readonly FlowWalk walk;

    // The words in front of each word on a path, one after the other: those of address i from first[i] to first[i + 1].
    private readonly int[] first;
    private readonly int[] before;

    public BankPaths(FlowGraph graph)
    {
        this.graph = graph;
        walk = graph.Walk;
        first = new int[walk.End + 1];
        var edges = new List<(int From, int To)>();
        var next = new List<int>();
        for (int at = 0; at < walk.End; at++)
        {
            if (!walk.Has(at) || walk.Reached[at] == Reach.None)
                continue;
            walk.Successors(at, next);
            if (walk.StepAt(at).Operation == Operation.Call)
            {
                if (walk.TargetOf(at) is not FlowWalk.None and int target && walk.Has(target))
                    next.Add(target);
            }

            foreach (int to in next)
                edges.Add((at, to));
        }

        foreach ((_, int to) in edges)
            first[to + 1]++;
        for (int i = 0; i < walk.End; i++)
            first[i + 1] += first[i];
        before = new int[edges.Count];
        var place = (int[])first.Clone();
        foreach ((int from, int to) in edges)
            before[place[to]++] = from;
    }

    public List<BankPath> At(int address, int banks)
    {
        var paths = new List<BankPath>();
        int may = graph.StateAt(address).Banks(banks);
        for (int bank = 0; bank < banks; bank++)
            if ((may >> bank & 1) != 0)
                paths.Add(Find(address, bank, banks));
        return paths;
    }

    private BankPath Find(int address, int bank, int banks)
    {
        int reset = walk.Device?.ResetVector ?? 0;
        var from = new Dictionary<int, int> { [address] = -1 };
        var open = new Queue<int>();
        open.Enqueue(address);
        var fallback = new BankPath(bank, BankReason.Interrupt, -1, -1);
        while (open.TryDequeue(out int at))
        {
            int through = from[at];
            if (at == reset && bank == 0)
                return new BankPath(bank, BankReason.Reset, -1, through);
            if (at == walk.InterruptVector)
                fallback = fallback with { Through = through };
            for (int i = first[at]; i < first[at + 1]; i++)
            {
                int previous = before[i];
                FlowState state = graph.StateAt(previous);
                DecodedStep step = walk.StepAt(previous);
                int entered = through;
                if (step.Operation == Operation.Call)
                {
                    RoutineBody? routine = graph.Calls.Routines.GetValueOrDefault(walk.TargetOf(previous));
                    if (routine is not null && at == routine.Address)
                    {
                        if (entered < 0)
                            entered = previous;
                    }
                    else if (routine is null || routine.IsOpaque || routine.Changed.Bank != 0)
                    {
                        FlowState after =
                            routine is null || routine.IsOpaque
                                ? FlowState.Unknown
                                : state.AfterCall(routine.AtReturn, routine.Changed, routine.ChangesW);
                        if ((after.Banks(banks) >> bank & 1) != 0)
                            return new BankPath(bank, BankReason.Call, previous, through);
                        continue;
                    }
                }
                else if (StateChange.Of(step).Bank != 0)
                {
                    if ((state.After(step).Banks(banks) >> bank & 1) == 0)
                        continue;
                    // Half of the bank's number may come from further up; this instruction is still where the path was decided.
                    return new BankPath(bank, BankReason.Instruction, previous, through);
                }

                if ((state.Banks(banks) >> bank & 1) != 0 && from.TryAdd(previous, entered))
                    open.Enqueue(previous);
            }
        }

        return walk.HasWildJump ? fallback with { Reason = BankReason.UnknownJump } : fallback;
    }
}
