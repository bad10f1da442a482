using AsmLsp.Core.Execution;

namespace AsmLsp.Core.Flow;

/// <summary>
/// What the interrupt's code keeps for the program that it interrupts: a register counts as kept where a copy is saved and the same copy
/// is put back.
/// </summary>
internal sealed class InterruptContext
{
    private const int LongestEntry = 12,
        CopyWithin = 4;

    private InterruptContext(bool keepsW, bool changesW, StateChange changed, StateChange lost)
    {
        (KeepsW, ChangesW, Changed, Lost) = (keepsW, changesW, changed, lost);
    }

    /// <summary>Whether W is saved and put back.</summary>
    public bool KeepsW { get; }

    /// <summary>Whether anything in the interrupt's code writes W.</summary>
    public bool ChangesW { get; }

    /// <summary>Whether the interrupted program finds another W.</summary>
    public bool LosesW => ChangesW && !KeepsW;

    /// <summary>What the code writes on its way.</summary>
    public StateChange Changed { get; }

    /// <summary>What the interrupted program may find changed.</summary>
    public StateChange Lost { get; }

    /// <summary>Whether nothing is lost.</summary>
    public bool IsWhole => !LosesW && Lost == default(StateChange);

    public static InterruptContext Of(FlowWalk walk, RoutineBody interrupt, bool changesW)
    {
        bool leavesOff = false;
        // RETURN and RETLW go back too, but leave interrupts off.
        foreach (int at in interrupt.Words)
            leavesOff |= walk.StepAt(at).Operation is Operation.Return or Operation.Retlw;
        StateChange changed = interrupt.Changed;
        StateChange lost = new(
            IsKept(walk, interrupt, DataSpace.Status) ? 0 : changed.Status,
            IsKept(walk, interrupt, DataSpace.Latch) ? 0 : changed.Latch,
            changed.Pointer && !IsKept(walk, interrupt, DataSpace.Pointer),
            leavesOff
        );
        return new InterruptContext(IsWKept(walk, interrupt), changesW, changed, lost);
    }

    private static bool IsKept(FlowWalk walk, RoutineBody interrupt, int register)
    {
        foreach (int at in interrupt.Words)
        {
            if (!Takes(walk, at, register))
                continue;
            for (int to = at + 1; to <= at + CopyWithin && walk.Has(to); to++)
            {
                DecodedStep step = walk.StepAt(to);
                if (
                    step.Operation == Operation.Movwf
                    && IsMemory(step.First)
                    && IsPutBack(walk, interrupt, step.First, register)
                )
                    return true;
                if (step.WritesW)
                    break;
            }
        }

        return false;
    }

    private static bool IsPutBack(FlowWalk walk, RoutineBody interrupt, int copy, int register)
    {
        foreach (int at in interrupt.Words)
        {
            if (!Takes(walk, at, copy))
                continue;
            for (int to = at + 1; to <= at + CopyWithin && walk.Has(to); to++)
            {
                DecodedStep step = walk.StepAt(to);
                if (step.Operation == Operation.Movwf && step.First == register)
                    return true;
                if (step.WritesW)
                    break;
            }
        }

        return false;
    }

    // W is saved before anything writes it, and read back as the last that happens to it.
    private static bool IsWKept(FlowWalk walk, RoutineBody interrupt)
    {
        int at = interrupt.Address;
        for (int count = 0; count < LongestEntry && walk.Has(at); count++)
        {
            DecodedStep step = walk.StepAt(at);
            if (step.Operation == Operation.Movwf && IsMemory(step.First) && IsReadLast(walk, interrupt, step.First))
                return true;
            if (step.WritesW || step.Operation == Operation.Call)
                return false;
            if (step.Operation == Operation.Goto && walk.TargetOf(at) is not FlowWalk.None and int target)
                at = target;
            else
                at++;
        }

        return false;
    }

    private static bool IsReadLast(FlowWalk walk, RoutineBody interrupt, int copy)
    {
        foreach (int at in interrupt.Words)
        {
            if (!Takes(walk, at, copy))
                continue;
            for (int to = at + 1; to <= at + CopyWithin && walk.Has(to); to++)
            {
                DecodedStep step = walk.StepAt(to);
                if (step.Operation == Operation.Retfie)
                    return true;
                if (step.WritesW)
                    break;
            }
        }

        return false;
    }

    private static bool Takes(FlowWalk walk, int at, int register) =>
        walk.StepAt(at) is { Second: 0, Operation: Operation.Swapf or Operation.Movf } step && step.First == register;

    private static bool IsMemory(int register) => register > DataSpace.InterruptControl;
}
