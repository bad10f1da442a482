using AsmLsp.Core.Flow.Checks;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Flow.Traps;

/// <summary>
/// The index of a table is stepped up or down again and again, and nothing tests or limits it on the way: in the end the jump leaves the
/// table. A path from the step through the table back to the step, without any test of a flag or counter, is the proof.
/// </summary>
internal sealed class TableIndexCheck : TrapCheck
{
    private const int LargestTable = 250;

    public override void Run(TrapContext context, FlowReport report)
    {
        if (context.HasWildJump)
            return;
        foreach ((int jump, FlowWalk.Table table) in context.Graph.Walk.Tables)
        {
            if (!context.IsLive(jump) || table.End - table.First >= LargestTable)
                continue;
            foreach (int use in UsesOf(context, jump))
                Judge(context, report, use, table);
        }
    }

    // The places that load the number directly before the jump or before a call of it.
    private static IEnumerable<int> UsesOf(TrapContext context, int jump)
    {
        if (context.Graph.Calls.Routines.TryGetValue(jump, out RoutineBody? routine))
        {
            foreach (int site in routine.CallSites)
                if (IsLoad(context, site))
                    yield return site - 1;
        }
        else if (IsLoad(context, jump))
        {
            yield return jump - 1;
        }

        static bool IsLoad(TrapContext context, int at) =>
            context.At(at - 1) is { Instruction.Name: "movf", Second: 0 }
            && context.IsLive(at - 1)
            && !context.Graph.Walk.HasLabel(at)
            && !context.IsSkipped(at - 1);
    }

    private static void Judge(TrapContext context, FlowReport report, int use, FlowWalk.Table table)
    {
        int register = context.AccessAt(use).Register;
        if (register < 0 || context.Device?.DataMemory.IsGeneralPurpose(register) != true)
            return;
        HashSet<int> writing = context.RoutinesWith(at =>
            context.AccessAt(at) is { Writes: true } access && access.Register == register
        );
        foreach (int step in context.UsesOf(register))
        {
            if (
                context.NameAt(step) is not ("incf" or "decf")
                || !context.AccessAt(step).Writes
                || !context.IsLive(step)
            )
                continue;
            if (!Circles(context, step, use, register, writing))
                continue;
            report.Add(
                Catalogue.TableIndexUnlimited,
                context.Graph,
                step,
                context.RegisterName(step),
                context.NameAt(step) == "incf" ? "up" : "down",
                Assembly.Show.Decimal(context.LineOf(use))
            );
            return;
        }
    }

    // From the step to the use, and from the use back to the step, past calls, with no test of a number on the way.
    private static bool Circles(TrapContext context, int step, int use, int register, HashSet<int> writing) =>
        Leads(context, step, use, register, writing) && Leads(context, use, step, register, writing);

    private static bool Leads(TrapContext context, int from, int to, int register, HashSet<int> writing)
    {
        FlowWalk walk = context.Graph.Walk;
        var seen = new HashSet<int>();
        var open = new Stack<int>();
        var next = new List<int>();
        walk.Successors(from, next);
        foreach (int first in next)
            open.Push(first);
        while (open.TryPop(out int at))
        {
            if (at == to)
                return true;
            if (!seen.Add(at) || context.At(at) is not { } decoded || Limits(context, at, decoded, register, writing))
                continue;
            walk.Successors(at, next);
            foreach (int after in next)
                open.Push(after);
        }

        return false;
    }

    // Tests of pins may come out either way again and again; those of flags and counters may be what ends the stepping.
    private static bool Limits(
        TrapContext context,
        int at,
        in DecodedInstruction decoded,
        int register,
        HashSet<int> writing
    )
    {
        RegisterAccess access = context.AccessAt(at);
        if (decoded.Instruction.MaySkip)
            return context.Ports.At(access.Register) is null;
        if (decoded.Instruction.IsCall)
            return WritesInside(context, at, writing);
        return access.Writes
            && (access.Register == register || access.Register < 0 || decoded.First == TrapContext.Indirect);
    }

    private static bool WritesInside(TrapContext context, int call, HashSet<int> writing) =>
        !context.Graph.Calls.Routines.TryGetValue(context.Graph.Walk.TargetOf(call), out RoutineBody? routine)
        || writing.Contains(routine.Address)
        || !routine.MayReturn
        || context.WritesIndirectly;
}
