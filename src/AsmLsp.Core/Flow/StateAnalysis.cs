using AsmLsp.Core.Execution;

namespace AsmLsp.Core.Flow;

/// <summary>
/// Finds what is known of banks, pages, W and FSR before each instruction: from the reset on along all paths, until nothing
/// changes any more. A state only ever gains possibilities, about fifty at most, so the work grows with the number of words.
/// </summary>
internal sealed class StateAnalysis
{
    private readonly FlowWalk walk;
    private readonly CallGraph calls;
    private readonly FlowState[] states;
    private readonly bool[] isOpen;
    private readonly Queue<int> open = new();
    private readonly InterruptContext? lossy;
    private readonly HashSet<int> interruptWords = [];
    private FlowState interruptEntry,
        interruptExit;

    private StateAnalysis(FlowWalk walk, CallGraph calls)
    {
        this.walk = walk;
        this.calls = calls;
        states = new FlowState[walk.End];
        isOpen = new bool[walk.End];
        lossy = calls.Context is { IsWhole: false } context ? context : null;
        if (lossy is not null)
            interruptWords.UnionWith(calls.Interrupt!.Words);
    }

    public static FlowState[] Run(FlowWalk walk, CallGraph calls)
    {
        var analysis = new StateAnalysis(walk, calls);
        analysis.Begin();
        return analysis.states;
    }

    private void Begin()
    {
        Reach(walk.Device?.ResetVector ?? 0, FlowState.Reset);
        if (walk.HasWildJump)
            foreach (int target in walk.WildTargets())
                Reach(target, FlowState.Unknown);
        Work();
        // Nothing was seen to switch interrupts on: then nothing is known of what they meet.
        if (walk.InterruptVector < 0 || states[walk.InterruptVector].IsReached)
            return;
        Reach(walk.InterruptVector, FlowState.Unknown.Interrupted());
        Work();
    }

    private void Work()
    {
        var next = new List<int>();
        while (open.TryDequeue(out int at))
        {
            isOpen[at] = false;
            DecodedStep step = walk.StepAt(at);
            switch (step.Operation)
            {
                case Operation.None:
                    continue;
                case Operation.Call:
                    Call(at, step.First);
                    continue;
                case Operation.Retfie:
                case Operation.Return:
                case Operation.Retlw:
                    Return(at, step);
                    if (lossy is not null && interruptWords.Contains(at))
                        ReturnFromInterrupt(states[at].After(step));
                    continue;
            }

            FlowState after = states[at].After(step);
            walk.Successors(at, next);
            // The blank words of a gap count W down.
            foreach (int to in next)
                Reach(to, step.Operation == Operation.Goto || walk.Has(to - 1) ? after : after.WithoutW());
        }
    }

    private void Call(int at, int low)
    {
        int target = walk.TargetOf(at);
        if (target == FlowWalk.None)
        {
            foreach (int candidate in walk.Candidates(low))
                Reach(candidate, states[at]);
            After(at, FlowState.Unknown);
        }
        else if (!walk.Has(target))
        {
            // The factory's word there is a RETLW with a value of its own.
            bool isFactoryWord = target == walk.Device?.Calibration?.Address;
            After(at, isFactoryWord ? states[at].WithoutW() : FlowState.Unknown);
        }
        else
        {
            Reach(target, states[at]);
            Continue(at, calls.Routines[target]);
        }
    }

    // All returns of a routine count together: the places after its calls are looked at again only when that sum changes.
    private void Return(int at, in DecodedStep step)
    {
        if (!calls.RoutinesOfReturn.TryGetValue(at, out List<RoutineBody>? routines))
            return;
        FlowState returned = states[at].After(step);
        foreach (RoutineBody routine in routines)
        {
            FlowState joined = routine.AtReturn.Join(returned);
            if (joined == routine.AtReturn)
                continue;
            routine.AtReturn = joined;
            foreach (int site in routine.CallSites)
                if (states[site].IsReached)
                    Continue(site, routine);
        }
    }

    // What an interrupt does not put back, the interrupted program finds wherever an interrupt may come.
    private void ReturnFromInterrupt(in FlowState state)
    {
        FlowState joined = interruptExit.Join(state);
        if (joined == interruptExit)
            return;
        interruptExit = joined;
        for (int at = 0; at < states.Length; at++)
            if (states[at].IsReached && states[at].MayInterrupt)
                Reach(at, states[at]);
    }

    private void Continue(int site, RoutineBody routine)
    {
        FlowState atReturn = routine.IsOpaque ? FlowState.Unknown : routine.AtReturn;
        if (atReturn.IsReached)
            After(site, states[site].AfterCall(atReturn, routine.Changed, routine.ChangesW));
    }

    private void After(int site, in FlowState state)
    {
        if (walk.Next(site + 1) is { } next)
            Reach(next, state);
    }

    private void Reach(int address, FlowState state)
    {
        if (!walk.Has(address))
            return;
        FlowState joined = states[address].Join(state);
        if (joined.MayInterrupt && walk.InterruptVector >= 0)
        {
            if (interruptExit.IsReached)
                joined = joined.Join(joined.AfterCall(interruptExit, lossy!.Lost, lossy.LosesW));
            FlowState entry = interruptEntry.Join(joined.Interrupted());
            if (entry != interruptEntry)
            {
                interruptEntry = entry;
                Reach(walk.InterruptVector, entry);
            }
        }

        if (joined == states[address])
            return;
        states[address] = joined;
        if (isOpen[address])
            return;
        isOpen[address] = true;
        open.Enqueue(address);
    }
}
