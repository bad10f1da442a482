using AsmLsp.Core.Instructions;

namespace AsmLsp.Core.Flow;

/// <summary>
/// Works out what is known of banks and pages before each instruction: from the reset on along all ways, until nothing
/// changes any more. Every bit can change twice at most, so the work grows with the number of words.
/// </summary>
internal sealed class StateAnalysis
{
    private readonly FlowWalk walk;
    private readonly CallGraph calls;
    private readonly FlowState[] states;
    private readonly bool[] isOpen;
    private readonly Queue<int> open = new();

    private StateAnalysis(FlowWalk walk, CallGraph calls)
    {
        this.walk = walk;
        this.calls = calls;
        states = new FlowState[walk.End];
        isOpen = new bool[walk.End];
    }

    public static FlowState[] Run(FlowWalk walk, CallGraph calls)
    {
        var analysis = new StateAnalysis(walk, calls);
        analysis.Work();
        return analysis.states;
    }

    private void Work()
    {
        Reach(walk.Device?.ResetVector ?? 0, FlowState.Reset);
        // An interrupt may come at any time, in any bank.
        if (walk.InterruptVector >= 0)
            Reach(walk.InterruptVector, FlowState.Unknown);
        if (walk.HasWildJump)
            foreach (int target in walk.WildTargets())
                Reach(target, FlowState.Unknown);

        var next = new List<int>();
        while (open.TryDequeue(out int at))
        {
            isOpen[at] = false;
            if (walk.Decode(at) is not { } decoded)
                continue;
            if (decoded.Instruction.IsCall)
                Call(at);
            else if (decoded.Instruction.IsReturn)
                Return(at);
            else
            {
                FlowState after = states[at].After(decoded);
                walk.Successors(at, next);
                // The blank words of a gap count W down.
                foreach (int to in next)
                    Reach(to, decoded.Instruction.IsJump || walk.Has(to - 1) ? after : after.WithoutW());
            }
        }
    }

    private void Call(int at)
    {
        int target = walk.TargetOf(at);
        if (target == FlowWalk.None)
        {
            foreach (int candidate in walk.Candidates(walk.Decode(at)!.Value.First))
                Reach(candidate, states[at]);
            Behind(at, FlowState.Unknown);
        }
        else if (!walk.Has(target))
        {
            Behind(at, FlowState.Unknown);
        }
        else
        {
            Reach(target, states[at]);
            Continue(at, calls.Routines[target]);
        }
    }

    // All returns of a routine count together: the places behind its calls are looked at again only when that sum changes.
    private void Return(int at)
    {
        if (!calls.RoutinesOfReturn.TryGetValue(at, out List<RoutineBody>? routines))
            return;
        foreach (RoutineBody routine in routines)
        {
            FlowState joined = routine.AtReturn.Join(states[at]);
            if (joined == routine.AtReturn)
                continue;
            routine.AtReturn = joined;
            foreach (int site in routine.CallSites)
                if (states[site].IsReached)
                    Continue(site, routine);
        }
    }

    private void Continue(int site, RoutineBody routine)
    {
        FlowState atReturn = routine.IsOpaque ? FlowState.Unknown : routine.AtReturn;
        if (atReturn.IsReached)
            Behind(site, states[site].AfterCall(atReturn, routine.ChangedBank, routine.ChangedLatch));
    }

    private void Behind(int site, in FlowState state)
    {
        if (walk.Next(site + 1) is { } next)
            Reach(next, state);
    }

    private void Reach(int address, in FlowState state)
    {
        if (!walk.Has(address))
            return;
        FlowState joined = states[address].Join(state);
        if (joined == states[address])
            return;
        states[address] = joined;
        if (isOpen[address])
            return;
        isOpen[address] = true;
        open.Enqueue(address);
    }
}
