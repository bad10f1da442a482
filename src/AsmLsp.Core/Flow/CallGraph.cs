using AsmLsp.Core.Execution;

namespace AsmLsp.Core.Flow;

/// <summary>The routines of a program: the words of each, its returns, whom it calls and who calls it.</summary>
internal sealed class CallGraph
{
    // Routines that run into each other share words; past so many steps in all, routines are not looked into any more.
    private const int MostSharing = 16;

    private readonly FlowWalk walk;

    public CallGraph(FlowWalk walk)
    {
        this.walk = walk;
        FindRoutines();
        int budget = MostSharing * walk.End + 8192,
            rootBudget = 2 * budget;
        var mark = new int[walk.End];
        int number = 0;
        foreach (RoutineBody routine in Routines.Values)
            Collect(routine, mark, ++number, ref budget);
        int reset = walk.Device?.ResetVector ?? 0;
        Main = Root(reset, mark, ++number, ref rootBudget);
        Interrupt = walk.InterruptVector >= 0 ? Root(walk.InterruptVector, mark, ++number, ref rootBudget) : null;
        SpreadChanges(default, false);
        if (Interrupt is null)
            return;
        Context = InterruptContext.Of(walk, Interrupt, Interrupt.ChangesW);
        // What an interrupt does not put back may change in the middle of any routine.
        if (!Context.IsWhole)
            SpreadChanges(Context.Lost, Context.LosesW);
    }

    /// <summary>The routines that are called, by their address.</summary>
    public SortedDictionary<int, RoutineBody> Routines { get; } = [];

    /// <summary>What runs from the reset on, or null where no word is there.</summary>
    public RoutineBody? Main { get; }

    /// <summary>What runs at an interrupt, or null.</summary>
    public RoutineBody? Interrupt { get; }

    /// <summary>What the interrupt's code keeps, or null where there is none.</summary>
    public InterruptContext? Context { get; }

    /// <summary>Whether routines share so many words that not all of them were followed.</summary>
    public bool IsTangled { get; private set; }

    /// <summary>For each return the routines that it may end.</summary>
    public Dictionary<int, List<RoutineBody>> RoutinesOfReturn { get; } = [];

    private IEnumerable<RoutineBody> Bodies
    {
        get
        {
            foreach (RoutineBody routine in Routines.Values)
                yield return routine;
            if (Main is not null)
                yield return Main;
            if (Interrupt is not null)
                yield return Interrupt;
        }
    }

    private void FindRoutines()
    {
        for (int i = 0; i < walk.End; i++)
        {
            if (walk.Reached[i] == Reach.None || walk.StepAt(i).Operation != Operation.Call)
                continue;
            int target = walk.TargetOf(i);
            if (target == FlowWalk.None || !walk.Has(target))
                continue;
            if (!Routines.TryGetValue(target, out RoutineBody? routine))
                Routines.Add(target, routine = new RoutineBody(target));
            routine.CallSites.Add(i);
        }
    }

    private RoutineBody? Root(int address, int[] mark, int number, ref int budget)
    {
        if (!walk.Has(address))
            return null;
        var body = new RoutineBody(address);
        Collect(body, mark, number, ref budget, false);
        return body;
    }

    private void Collect(RoutineBody routine, int[] mark, int number, ref int budget, bool noteReturns = true)
    {
        var open = new Stack<int>();
        var next = new List<int>();
        open.Push(routine.Address);
        mark[routine.Address] = number;
        while (open.TryPop(out int at))
        {
            if (--budget < 0)
            {
                (routine.IsOpaque, IsTangled) = (true, true);
                return;
            }

            routine.Words.Add(at);
            DecodedStep step = walk.StepAt(at);
            routine.Changed = routine.Changed.Join(StateChange.Of(step));
            routine.ChangesW |= step.WritesW;
            if (step.Operation is Operation.Return or Operation.Retlw or Operation.Retfie && noteReturns)
            {
                routine.Returns.Add(at);
                if (!RoutinesOfReturn.TryGetValue(at, out List<RoutineBody>? ended))
                    RoutinesOfReturn.Add(at, ended = []);
                ended.Add(routine);
            }
            else if (step.Operation == Operation.Call)
            {
                int target = walk.TargetOf(at);
                if (target != FlowWalk.None && Routines.ContainsKey(target))
                    routine.Calls.Add((at, target));
                else
                    routine.CallsUnknown = true;
            }
            else if (FlowWalk.WritesProgramCounter(step) && !walk.Tables.ContainsKey(at))
            {
                routine.IsOpaque = true;
            }

            walk.Successors(at, next);
            budget -= next.Count;
            foreach (int to in next)
            {
                if (mark[to] == number)
                    continue;
                mark[to] = number;
                open.Push(to);
            }
        }
    }

    // What a called routine changes, the caller changes too; and after a routine that is not known nothing is.
    private void SpreadChanges(StateChange everywhere, bool changesW)
    {
        var callers = new Dictionary<int, List<RoutineBody>>();
        var open = new Queue<RoutineBody>();
        foreach (RoutineBody body in Bodies)
        {
            if (body.IsOpaque || body.CallsUnknown)
                (body.Changed, body.ChangesW, body.IsOpaque) = (StateChange.All, true, true);
            body.Changed = body.Changed.Join(everywhere);
            body.ChangesW |= changesW;
            open.Enqueue(body);
            foreach ((_, int target) in body.Calls)
            {
                if (!callers.TryGetValue(target, out List<RoutineBody>? calling))
                    callers.Add(target, calling = []);
                if (calling.Count == 0 || calling[^1] != body)
                    calling.Add(body);
            }
        }

        while (open.TryDequeue(out RoutineBody? called))
        {
            if (!callers.TryGetValue(called.Address, out List<RoutineBody>? calling))
                continue;
            foreach (RoutineBody body in calling)
            {
                StateChange changed = called.IsOpaque ? StateChange.All : body.Changed.Join(called.Changed);
                bool opaque = body.IsOpaque || called.IsOpaque,
                    changesWToo = body.ChangesW || called.ChangesW;
                if (changed == body.Changed && opaque == body.IsOpaque && changesWToo == body.ChangesW)
                    continue;
                (body.Changed, body.IsOpaque, body.ChangesW) = (changed, opaque, changesWToo);
                open.Enqueue(body);
            }
        }
    }
}

/// <summary>A routine: everything that is carried out between its first word and its returns, without the routines it calls.</summary>
internal sealed class RoutineBody(int address)
{
    public int Address { get; } = address;

    public List<int> Words { get; } = [];

    public List<int> Returns { get; } = [];

    public List<int> CallSites { get; } = [];

    public List<(int At, int Target)> Calls { get; } = [];

    /// <summary>What it, or what it calls, may change.</summary>
    public StateChange Changed { get; set; }

    /// <summary>Whether it, or what it calls, writes W.</summary>
    public bool ChangesW { get; set; }

    /// <summary>Whether it calls something that is not in this program.</summary>
    public bool CallsUnknown { get; set; }

    /// <summary>Whether not everything about it is known: it jumps to a computed place, or is too large.</summary>
    public bool IsOpaque { get; set; }

    /// <summary>What is known at its returns, all of them together.</summary>
    public FlowState AtReturn { get; set; }

    /// <summary>Whether it comes back, as far as that is known.</summary>
    public bool MayReturn => IsOpaque || Returns.Count > 0;
}
