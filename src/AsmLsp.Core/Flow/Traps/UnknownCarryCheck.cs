using AsmLsp.Core.Flow.Checks;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Flow.Traps;

/// <summary>
/// RLF or RRF while nothing has set carry since the reset, where it holds any value (data sheet DS35007B, table 6-3): a random bit is
/// shifted in. Shifts whose result is masked, or made for the bit that falls out, are left alone.
/// </summary>
internal sealed class UnknownCarryCheck : TrapCheck
{
    private const int CarryMask = 1,
        LooksAhead = 4;

    public override void Run(TrapContext context, FlowReport report)
    {
        if (context.HasWildJump || context.Graph.Calls.Main is not { } main || !HasShift(context))
            return;
        CallGraph calls = context.Graph.Calls;
        FlowWalk walk = context.Graph.Walk;
        var unknown = new bool[context.End];
        // Routines that come back with it still unknown.
        var returning = new HashSet<int>();
        var open = new Stack<int>();
        var next = new List<int>();
        Reach(main.Address);
        while (open.TryPop(out int at))
        {
            if (context.At(at) is not { } decoded)
                continue;
            if (decoded.Instruction.Name is "rlf" or "rrf" && context.IsLive(at) && Matters(context, at, decoded))
                report.Add(
                    Catalogue.CarryUnknown,
                    context.Graph,
                    at,
                    decoded.Instruction.Name.ToUpperInvariant(),
                    context.RegisterName(at)
                );
            if (SetsCarry(context, at, decoded))
                continue;
            if (decoded.Instruction.IsReturn)
            {
                if (calls.RoutinesOfReturn.TryGetValue(at, out List<RoutineBody>? ended))
                    foreach (RoutineBody routine in ended)
                        if (returning.Add(routine.Address))
                            foreach (int site in routine.CallSites)
                                if (unknown[site] && walk.Next(site + 1) is { } following)
                                    Reach(following);
                continue;
            }

            if (!decoded.Instruction.IsCall)
            {
                walk.Successors(at, next);
                foreach (int to in next)
                    Reach(to);
                continue;
            }

            if (!calls.Routines.TryGetValue(walk.TargetOf(at), out RoutineBody? called))
                continue;
            Reach(called.Address);
            // A return that was met before this call was.
            if (returning.Contains(called.Address) && walk.Next(at + 1) is { } after)
                Reach(after);
        }

        void Reach(int address)
        {
            if (!walk.Has(address) || unknown[address])
                return;
            unknown[address] = true;
            open.Push(address);
        }
    }

    private static bool HasShift(TrapContext context)
    {
        for (int at = 0; at < context.End; at++)
            if (context.NameAt(at) is "rlf" or "rrf")
                return true;
        return false;
    }

    private static bool SetsCarry(TrapContext context, int at, in DecodedInstruction decoded) =>
        (decoded.Instruction.Affects & StatusFlags.Carry) != 0
        || (
            context.AccessAt(at) is { Writes: true, Register: TrapContext.Status } access
            && (access.Mask & CarryMask) != 0
        );

    // The bit that falls out is wanted, the result is masked or cleared, or it went to W only to set carry for the turn of the same register.
    private static bool Matters(TrapContext context, int at, in DecodedInstruction decoded)
    {
        int i = at + 1;
        while (context.At(i) is { Instruction.Name: "rlf" or "rrf" } next && next.First == decoded.First)
        {
            if (decoded.Second == 0)
                return false;
            i++;
        }

        int last = i + LooksAhead;
        for (; i < last; i++)
        {
            if (context.At(i) is not { } after)
                return true;
            if (after.Instruction.IsCall && context.At(context.Graph.Walk.TargetOf(i)) is { Instruction.Name: "andlw" })
                return false;
            if (
                after.Instruction.Name is "andlw" or "andwf"
                || (after.Instruction.Name == "clrf" && after.First == decoded.First)
            )
                return false;
            if (context.AccessAt(i) is { Register: TrapContext.Status, Mask: CarryMask })
                return false;
            if (after.Instruction.Name is not "movf")
                return true;
        }

        return true;
    }
}
