using AsmLsp.Core.Instructions;

namespace AsmLsp.Core.Flow;

/// <summary>The routines of a program: the words of each, its returns, whom it calls and who calls it.</summary>
internal sealed class CallGraph
{
    // Routines that run into each other share words; past so many words in all, routines are not looked into any more.
    private const int MostSharing = 8;

    private readonly FlowWalk walk;

    public CallGraph(FlowWalk walk)
    {
        this.walk = walk;
        FindRoutines();
        int budget = MostSharing * walk.End + 4096;
        var mark = new int[walk.End];
        int number = 0;
        foreach (RoutineBody routine in Routines.Values)
            Collect(routine, mark, ++number, ref budget);
        int reset = walk.Device?.ResetVector ?? 0;
        Main = Root(reset, mark, ++number, ref budget);
        Interrupt = walk.InterruptVector >= 0 ? Root(walk.InterruptVector, mark, ++number, ref budget) : null;
        SpreadChanges();
    }

    /// <summary>The routines that are called, by their address.</summary>
    public SortedDictionary<int, RoutineBody> Routines { get; } = [];

    /// <summary>What runs from the reset on, or null where no word stands there.</summary>
    public RoutineBody? Main { get; }

    /// <summary>What runs at an interrupt, or null.</summary>
    public RoutineBody? Interrupt { get; }

    /// <summary>For each return the routines that it may end.</summary>
    public Dictionary<int, List<RoutineBody>> RoutinesOfReturn { get; } = [];

    private void FindRoutines()
    {
        for (int i = 0; i < walk.End; i++)
        {
            if (walk.Reached[i] == Reach.None || walk.Decode(i) is not { Instruction.IsCall: true } decoded)
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
                routine.IsOpaque = true;
                return;
            }

            routine.Words.Add(at);
            if (walk.Decode(at) is not { } decoded)
                continue;
            (int bank, int latch) = FlowState.ChangedBy(decoded);
            routine.ChangedBank |= bank;
            routine.ChangedLatch |= latch;
            if (decoded.Instruction.IsReturn && noteReturns)
            {
                routine.Returns.Add(at);
                if (!RoutinesOfReturn.TryGetValue(at, out List<RoutineBody>? ended))
                    RoutinesOfReturn.Add(at, ended = []);
                ended.Add(routine);
            }
            else if (decoded.Instruction.IsCall)
            {
                int target = walk.TargetOf(at);
                if (target != FlowWalk.None && Routines.ContainsKey(target))
                    routine.Calls.Add((at, target));
                else
                    routine.CallsUnknown = true;
            }
            else if (FlowWalk.WritesProgramCounter(decoded) && !walk.Tables.ContainsKey(at))
            {
                routine.IsOpaque = true;
            }

            walk.Successors(at, next);
            foreach (int to in next)
            {
                if (mark[to] == number)
                    continue;
                mark[to] = number;
                open.Push(to);
            }
        }
    }

    // What a called routine changes, the caller changes too; and behind a routine that is not known nothing is.
    private void SpreadChanges()
    {
        bool changed = true;
        while (changed)
        {
            changed = false;
            foreach (RoutineBody routine in Routines.Values)
            {
                int bank = routine.ChangedBank,
                    latch = routine.ChangedLatch;
                bool opaque = routine.IsOpaque || routine.CallsUnknown;
                foreach ((_, int target) in routine.Calls)
                {
                    RoutineBody called = Routines[target];
                    bank |= called.ChangedBank;
                    latch |= called.ChangedLatch;
                    opaque |= called.IsOpaque;
                }

                if (opaque)
                    (bank, latch) = (FlowState.BankBits, FlowState.LatchBits);
                if (bank == routine.ChangedBank && latch == routine.ChangedLatch && opaque == routine.IsOpaque)
                    continue;
                (routine.ChangedBank, routine.ChangedLatch, routine.IsOpaque, changed) = (bank, latch, opaque, true);
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

    /// <summary>Bank bits that it, or what it calls, may change.</summary>
    public int ChangedBank { get; set; }

    /// <summary>PCLATH bits that it, or what it calls, may change.</summary>
    public int ChangedLatch { get; set; }

    /// <summary>Whether it calls something that is not in this program.</summary>
    public bool CallsUnknown { get; set; }

    /// <summary>Whether not everything about it is known: it jumps to a computed place, or is too large.</summary>
    public bool IsOpaque { get; set; }

    /// <summary>What is known at its returns, all of them together.</summary>
    public FlowState AtReturn { get; set; }

    /// <summary>Whether it comes back, as far as that is known.</summary>
    public bool MayReturn => IsOpaque || Returns.Count > 0;
}
