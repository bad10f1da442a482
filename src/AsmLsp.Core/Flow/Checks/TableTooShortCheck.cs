using AsmLsp.Core.Assembly;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Flow.Checks;

/// <summary>
/// A table after ADDWF PCL that has fewer entries than its uses show: a constant, a counter that is compared with its end, or a mask lets
/// through a number that no entry answers.
/// </summary>
internal sealed class TableTooShortCheck : FlowCheck
{
    private const int Digit = 0x0F;

    // The bits of STATUS that a comparison leaves: data sheet DS35007B, register 2-1.
    private const int Carry = 0,
        Zero = 2;

    // How many words after a step of a counter its comparison begins.
    private const int CompareWithin = 3;

    /// <summary>What shows how far a table is used.</summary>
    /// <param name="Last">The number of the last entry that is asked for, from 0.</param>
    /// <param name="What">What shows it, for people.</param>
    /// <param name="At">The address of the instruction that shows it.</param>
    private readonly record struct Use(int Last, string What, int At);

    public override void Run(FlowGraph graph, FlowReport report)
    {
        FlowWalk walk = graph.Walk;
        var counters = new Dictionary<int, Use?>();
        foreach ((int at, FlowWalk.Table table) in walk.Tables)
        {
            if (!table.IsAdded || graph.ReachOf(at) != Reach.Certain)
                continue;
            int entries = Entries(walk, table.First);
            if (entries < 2 || Longest(walk, graph.Calls, at, entries, counters) is not { } use)
                continue;
            if (use.Last == entries && IsLastEntry(walk, table.First + entries))
                continue;
            report.Add(
                Catalogue.TableTooShort,
                graph,
                at,
                Show.Decimal(entries),
                $"{use.What} in line {Show.Decimal(graph.OriginOf(use.At).Outermost.Line + 1)}",
                Show.Decimal(use.Last + 1)
            );
        }
    }

    // Entries of one kind in a row, whatever labels are among them: more than the table has, never fewer.
    private static int Entries(FlowWalk walk, int first)
    {
        if (!walk.Has(first) || Kind(first) is not { } kind)
            return 0;
        int at = first;
        while (walk.Has(at) && Kind(at) == kind)
            at++;
        return at - first;

        string? Kind(int address) =>
            walk.Decode(address) is { Instruction: { Name: "retlw" or "goto" } instruction } ? instruction.Name : null;
    }

    // The word after the entries, which are jumps or returns, is reached through the table only where no label is on
    // it: then it is the entry that is asked for, written as the code itself.
    private static bool IsLastEntry(FlowWalk walk, int address) => walk.Has(address) && !walk.HasLabel(address);

    private static Use? Longest(FlowWalk walk, CallGraph calls, int jump, int entries, Dictionary<int, Use?> counters)
    {
        int start = jump,
            mask = 0xFF,
            maskAt = -1;
        if (!walk.HasLabel(start) && Before(walk, start) is { Instruction.Name: "andlw" } own)
            (mask, maskAt, start) = (own.First, start - 1, start - 1);
        IEnumerable<int> ends =
            calls.Routines.TryGetValue(start, out RoutineBody? routine) ? routine.CallSites
            : walk.HasLabel(start) ? []
            : [start];
        Use? longest = null;
        foreach (int end in ends)
        {
            int at = end,
                here = mask,
                hereAt = maskAt;
            if (!walk.HasLabel(at) && Before(walk, at) is { Instruction.Name: "andlw" } other)
                (here, hereAt, at) = (here & other.First, at - 1, at - 1);
            if (walk.HasLabel(at))
                continue;
            Use? use = Source(walk, at - 1, here, counters);
            if (use is null && hereAt >= 0 && IsGuard(here, entries) && walk.Reached[hereAt] == Reach.Certain)
                use = new Use(here, $"the mask {Show.Hex(here, 2)}", hereAt);
            if (use is { } found && found.Last >= entries && (longest is null || found.Last > longest.Value.Last))
                longest = found;
        }

        return longest;
    }

    private static DecodedInstruction? Before(FlowWalk walk, int address) =>
        walk.Has(address - 1) ? walk.Decode(address - 1) : null;

    // A constant, or a counter that is compared with its end.
    private static Use? Source(FlowWalk walk, int at, int mask, Dictionary<int, Use?> counters)
    {
        if (!walk.Has(at) || walk.Reached[at] != Reach.Certain || walk.Decode(at) is not { } source)
            return null;
        if (source.Instruction.Name == "movlw")
            return new Use(source.First & mask, $"the number {Show.Decimal(source.First & mask)}", at);
        if (source.Instruction.Name != "movf" || source.Second != 0 || source.First < 0x0C)
            return null;
        if (!counters.TryGetValue(source.First, out Use? end))
            counters.Add(source.First, end = Count(walk, source.First));
        return end is { } known && known.Last <= mask ? end : null;
    }

    // A counter that begins at 0, is stepped up, and is compared with its end, and of which nothing else is made.
    private static Use? Count(FlowWalk walk, int register)
    {
        Use? end = null;
        int steps = 0;
        for (int i = 0; i < walk.End; i++)
        {
            if (!walk.Has(i) || walk.Decode(i) is not { } here || !NamedRegister.Takes(here) || here.First != register)
                continue;
            switch (here.Instruction.Name)
            {
                case "clrf":
                case "movf" when here.Second == 0:
                    continue;
                case "incf" when here.Second == 1 && ++steps == 1:
                    if (CompareAfter(walk, i, register) is not { } compared)
                        return null;
                    end = compared;
                    continue;
                case "subwf" or "xorwf" when here.Second == 0 && end is { } known && i == known.At + 1:
                    continue;
                default:
                    return null;
            }
        }

        return end;
    }

    private static Use? CompareAfter(FlowWalk walk, int step, int register)
    {
        for (int i = step + 1; i <= step + CompareWithin && walk.Has(i + 2) && !walk.HasLabel(i); i++)
        {
            if (
                walk.Decode(i) is not { } first
                || walk.Decode(i + 1) is not { } second
                || walk.Decode(i + 2) is not { Instruction.MaySkip: true, First: FlowState.StatusRegister } tested
            )
                continue;
            bool byEqual = tested.Second == Zero,
                byLess = tested.Second == Carry;
            if (
                first.Instruction.Name == "movlw"
                && second.First == register
                && second.Second == 0
                && (
                    (second.Instruction.Name == "xorwf" && byEqual)
                    || (second.Instruction.Name == "subwf" && (byEqual || byLess))
                )
            )
                return new Use(first.First - 1, $"the count up to {Show.Decimal(first.First)}", i);
            if (
                first.Instruction.Name == "movf"
                && first.First == register
                && first.Second == 0
                && second.Instruction.Name is "xorlw" or "sublw"
                && byEqual
                && second.First > 0
            )
                return new Use(second.First - 1, $"the count up to {Show.Decimal(second.First)}", i + 1);
        }

        return null;
    }

    // Whether a mask shows that the table had more entries: where exactly the last one has none. Four bits also hold a decimal digit or a month, so
    // that ten to twelve entries are whole, and nine are not.
    private static bool IsGuard(int mask, int entries) =>
        mask >= 3 && (mask & (mask + 1)) == 0 && (entries == mask || (mask == Digit && entries is 9 or 13 or 14));
}
