using AsmLsp.Core.Execution;

namespace AsmLsp.Core.Flow.Pins;

/// <summary>
/// What the registers that decide about pins hold before each instruction, on all paths together. A write to one bit of a port reads and
/// writes the whole port, so that the latch of an input is not known afterward (data sheet DS35007B, section 4).
/// </summary>
internal sealed class PinAnalysis
{
    private readonly FlowGraph graph;
    private readonly FlowWalk walk;
    private readonly KnownBits[]?[] states;
    private readonly bool[] isOpen;
    private readonly Queue<int> open = new();
    private readonly Dictionary<RoutineBody, Returned> returned = [];
    private readonly HashSet<int> interruptWords = [];
    private readonly KnownBits[] interruptExit;
    private readonly byte[] interruptChanges;

    private PinAnalysis(FlowGraph graph, PinRegisters registers)
    {
        (this.graph, walk, Registers) = (graph, graph.Walk, registers);
        states = new KnownBits[]?[walk.End];
        isOpen = new bool[walk.End];
        interruptExit = new KnownBits[registers.Count];
        FindChanges();
        if (graph.Calls.Interrupt is { } interrupt)
        {
            interruptWords.UnionWith(interrupt.Words);
            interruptChanges = returned[interrupt].Changed;
            // The interrupted program gets its W back, or knows nothing of it.
            interruptChanges[PinRegisters.W] = graph.Calls.Context!.LosesW ? (byte)0xFF : (byte)0;
        }
        else
        {
            interruptChanges = new byte[registers.Count];
        }
    }

    public PinRegisters Registers { get; }

    public static PinAnalysis Of(FlowGraph graph, PinRegisters registers)
    {
        var analysis = new PinAnalysis(graph, registers);
        analysis.Begin();
        return analysis;
    }

    /// <summary>The registers before the instruction at an address, or null where nothing reaches it.</summary>
    public KnownBits[]? Before(int address) => (uint)address < (uint)states.Length ? states[address] : null;

    /// <summary>The registers after power-on.</summary>
    public KnownBits[] PowerOn()
    {
        var values = new KnownBits[Registers.Count];
        values[PinRegisters.W] = KnownBits.Unknown;
        for (int i = 1; i < values.Length; i++)
        {
            int known = Registers.All[i]!.PowerOnKnownMask | ~Registers.All[i]!.PresentMask,
                value = Registers.All[i]!.PowerOnValue;
            values[i] = KnownBits.From(~value | ~known, value | ~known);
        }

        return values;
    }

    /// <summary>The registers after the instruction at an address, before another on the path from it; null where it is not reached.</summary>
    public KnownBits[]? After(int address)
    {
        if (Before(address) is not { } before)
            return null;
        if (walk.StepAt(address).Operation == Operation.Call)
            return AfterCall(address, before);
        return Step(address, before);
    }

    /// <summary>The bits of each register that an instruction may write, and what they are then.</summary>
    public IEnumerable<(int Register, int Mask, KnownBits Value)> WritesOf(int address)
    {
        if (Before(address) is not { } before)
            yield break;
        DecodedStep step = walk.StepAt(address);
        KnownBits[] after = Step(address, before);
        var targets = new List<int>();
        Targets(step, address, targets);
        foreach (int target in targets)
            if (target > 0)
                yield return (
                    target,
                    step.Operation is Operation.Tris or Operation.Option ? 0xFF : step.WrittenBits,
                    after[target]
                );
    }

    private void Begin()
    {
        Reach(walk.Device?.ResetVector ?? 0, PowerOn());
        KnownBits[] unknown = [.. Enumerable.Repeat(KnownBits.Unknown, Registers.Count)];
        if (walk.HasWildJump)
            foreach (int target in walk.WildTargets())
                Reach(target, unknown);
        Work();
        if (walk.InterruptVector < 0 || states[walk.InterruptVector] is not null)
            return;
        Reach(walk.InterruptVector, unknown);
        Work();
    }

    private void Work()
    {
        var next = new List<int>();
        while (open.TryDequeue(out int at))
        {
            isOpen[at] = false;
            KnownBits[] before = states[at]!;
            DecodedStep step = walk.StepAt(at);
            switch (step.Operation)
            {
                case Operation.None:
                    continue;
                case Operation.Call:
                    if (walk.TargetOf(at) is not FlowWalk.None and int target)
                        Reach(target, before);
                    After(at, AfterCall(at, before));
                    continue;
                case Operation.Return:
                case Operation.Retlw:
                case Operation.Retfie:
                    Return(at, step, before);
                    continue;
            }

            KnownBits[] after = Step(at, before);
            walk.Successors(at, next);
            foreach (int to in next)
                Reach(to, after);
        }
    }

    private void After(int site, KnownBits[]? state)
    {
        if (state is not null && walk.Next(site + 1) is { } next)
            Reach(next, state);
    }

    private void Return(int at, in DecodedStep step, KnownBits[] before)
    {
        KnownBits[] state = before;
        if (step.Operation == Operation.Retlw)
        {
            state = [.. before];
            state[PinRegisters.W] = KnownBits.Of(step.First);
        }

        if (interruptWords.Contains(at) && Join(interruptExit, state))
            for (int i = 0; i < states.Length; i++)
                if (states[i] is { } there && graph.StateAt(i).MayInterrupt)
                    Reach(i, there);
        if (!graph.Calls.RoutinesOfReturn.TryGetValue(at, out List<RoutineBody>? routines))
            return;
        foreach (RoutineBody routine in routines)
        {
            Returned found = returned[routine];
            if (!Join(found.State, state) && found.IsReached)
                continue;
            found.IsReached = true;
            foreach (int site in routine.CallSites)
                if (states[site] is { } caller)
                    After(site, AfterCall(site, caller));
        }
    }

    private KnownBits[]? AfterCall(int site, KnownBits[] before)
    {
        int target = walk.TargetOf(site);
        if (!graph.Calls.Routines.TryGetValue(target, out RoutineBody? routine) || routine.IsOpaque)
        {
            bool isFactoryWord = target == walk.Device?.Calibration?.Address;
            KnownBits[] lost = [.. before];
            if (isFactoryWord)
                lost[PinRegisters.W] = KnownBits.Unknown;
            else
                Array.Fill(lost, KnownBits.Unknown);
            return lost;
        }

        Returned found = returned[routine];
        if (!found.IsReached)
            return null;
        var after = new KnownBits[before.Length];
        for (int i = 0; i < after.Length; i++)
            after[i] = before[i].Take(found.State[i], found.Changed[i]);
        return after;
    }

    private void Reach(int address, KnownBits[] state)
    {
        if (!walk.Has(address))
            return;
        bool isNew = states[address] is null;
        KnownBits[] here = states[address] ??= new KnownBits[state.Length];
        bool changed = Join(here, state) || isNew;
        if (walk.InterruptVector >= 0 && graph.StateAt(address).MayInterrupt)
        {
            for (int i = 0; i < here.Length; i++)
            {
                KnownBits joined = here[i].Join(new KnownBits(0, 0).Take(interruptExit[i], interruptChanges[i]));
                changed |= joined != here[i];
                here[i] = joined;
            }

            if (changed && address != walk.InterruptVector)
                Reach(walk.InterruptVector, here);
        }

        if (!changed || isOpen[address])
            return;
        isOpen[address] = true;
        open.Enqueue(address);
    }

    private static bool Join(KnownBits[] into, KnownBits[] from)
    {
        bool changed = false;
        for (int i = 0; i < into.Length; i++)
        {
            KnownBits joined = into[i].Join(from[i]);
            changed |= joined != into[i];
            into[i] = joined;
        }

        return changed;
    }

    private KnownBits[] Step(int at, KnownBits[] before)
    {
        DecodedStep step = walk.StepAt(at);
        var targets = new List<int>();
        Targets(step, at, targets);
        KnownBits[] after = [.. before];
        KnownBits w = before[PinRegisters.W];
        switch (step.Operation)
        {
            case Operation.Tris:
            case Operation.Option:
                Store(after, targets, 0xFF, _ => w);
                return after;
            case Operation.Movwf:
                Store(after, targets, 0xFF, _ => w);
                return after;
            case Operation.Clrf:
                Store(after, targets, 0xFF, static _ => KnownBits.Of(0));
                return after;
            case Operation.Bcf:
            case Operation.Bsf:
                Store(after, targets, 0xFF, i => Load(before, i).With(step.Second, step.Operation == Operation.Bsf));
                return after;
            case Operation.Clrw:
                after[PinRegisters.W] = KnownBits.Of(0);
                return after;
            case Operation.Movlw
            or Operation.Andlw
            or Operation.Iorlw
            or Operation.Xorlw
            or Operation.Addlw
            or Operation.Sublw:
                after[PinRegisters.W] = KnownBits.Combine(step.Operation, KnownBits.Of(step.First), w);
                return after;
        }

        if (!step.TakesRegister || step.MaySkip && step.Operation is Operation.Btfsc or Operation.Btfss)
            return after;
        if (step.Second == 1)
        {
            if (step.Operation != Operation.Movf)
                Store(after, targets, 0xFF, i => KnownBits.Combine(step.Operation, Load(before, i), w));
            return after;
        }

        KnownBits value = new(0, 0);
        foreach (int target in targets)
            value = value.Join(target > 0 ? Load(before, target) : KnownBits.Unknown);
        after[PinRegisters.W] = KnownBits.Combine(step.Operation, targets.Count == 0 ? KnownBits.Unknown : value, w);
        return after;
    }

    private void Targets(in DecodedStep step, int at, List<int> targets)
    {
        if (step.Operation == Operation.Tris)
            targets.Add(Registers.NumberAt(0x80 | step.First));
        else if (step.Operation == Operation.Option)
            targets.Add(Registers.NumberAt(DataSpace.Option));
        else if (step.TakesRegister)
            Registers.TargetsOf(step.First, graph.StateAt(at), targets);
    }

    private void Store(KnownBits[] after, List<int> targets, int mask, Func<int, KnownBits> value)
    {
        bool isCertain = targets.Count == 1;
        foreach (int target in targets)
        {
            if (target <= 0)
                continue;
            KnownBits made = value(target);
            after[target] = isCertain ? after[target].Take(made, mask) : after[target].Join(made);
            if (Registers.Latches[target] is >= 0 and int latch)
                after[latch] = after[target];
        }
    }

    // An input reads what comes from outside.
    private KnownBits Load(KnownBits[] before, int register)
    {
        KnownBits value = Registers.Latches[register] is >= 0 and int latch ? before[latch] : before[register];
        return Registers.Directions[register] is >= 0 and int direction
            ? value.Take(KnownBits.Unknown, before[direction].One)
            : value;
    }

    // The bits that a routine, or what it calls, may change.
    private void FindChanges()
    {
        var callers = new Dictionary<int, List<RoutineBody>>();
        var bodies = new Queue<RoutineBody>();
        IEnumerable<RoutineBody> all = graph.Calls.Routines.Values;
        if (graph.Calls.Interrupt is { } interrupt)
            all = all.Append(interrupt);
        var targets = new List<int>();
        foreach (RoutineBody body in all)
        {
            var found = new Returned(Registers.Count);
            returned[body] = found;
            bodies.Enqueue(body);
            if (body.ChangesW)
                found.Changed[PinRegisters.W] = 0xFF;
            foreach (int at in body.Words)
            {
                DecodedStep step = walk.StepAt(at);
                targets.Clear();
                if (step.WrittenBits != 0 || step.Operation is Operation.Tris or Operation.Option)
                    Targets(step, at, targets);
                foreach (int target in targets)
                    if (target > 0)
                        // A write of one bit may change what is known of the others of a port.
                        Mark(
                            found,
                            target,
                            Registers.Directions[target] >= 0 || step.WrittenBits == 0 ? 0xFF : step.WrittenBits
                        );
            }

            foreach ((_, int target) in body.Calls)
            {
                if (!callers.TryGetValue(target, out List<RoutineBody>? calling))
                    callers.Add(target, calling = []);
                calling.Add(body);
            }
        }

        while (bodies.TryDequeue(out RoutineBody? called))
        {
            if (!callers.TryGetValue(called.Address, out List<RoutineBody>? calling))
                continue;
            foreach (RoutineBody body in calling)
            {
                bool changed = false;
                for (int i = 0; i < Registers.Count; i++)
                {
                    byte joined = (byte)(returned[body].Changed[i] | returned[called].Changed[i]);
                    changed |= joined != returned[body].Changed[i];
                    returned[body].Changed[i] = joined;
                }

                if (changed)
                    bodies.Enqueue(body);
            }
        }
    }

    private void Mark(Returned found, int register, int mask)
    {
        found.Changed[register] |= (byte)mask;
        if (Registers.Latches[register] is >= 0 and int latch)
            found.Changed[latch] |= (byte)mask;
    }

    private sealed class Returned(int count)
    {
        public KnownBits[] State { get; } = new KnownBits[count];

        public byte[] Changed { get; } = new byte[count];

        public bool IsReached { get; set; }
    }
}
