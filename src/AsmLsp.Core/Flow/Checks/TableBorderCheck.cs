using AsmLsp.Core.Assembly;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Flow.Checks;

/// <summary>
/// ADDWF PCL adds to the low 8 bits only and takes the rest from PCLATH: where PCLATH is known, entries of the table in
/// another block of 256 words cannot be reached (data sheet DS35007B, section 2.4).
/// </summary>
internal sealed class TableBorderCheck : FlowCheck
{
    public override void Run(FlowGraph graph, FlowReport report)
    {
        FlowWalk walk = graph.Walk;
        int mask = (walk.Limit - 1) >> 8 & FlowState.LatchBits;
        foreach ((int at, FlowWalk.Table table) in walk.Tables)
        {
            // An index that W holds as an address carries over by PCLATH; ADDWF PCL does not.
            if (
                !table.IsAdded
                || graph.ReachOf(at) != Reach.Certain
                || graph.StateAt(at).LatchValue(mask) is not { } latch
            )
                continue;
            // Jumps into plain code, and a table of one entry, are no proof of an index that gets so far.
            int end = table.First;
            while (end < table.CertainEnd && (end == table.First || !walk.HasLabel(end)))
                end++;
            if (end - table.First < 2)
                continue;
            int wrong = -1,
                count = 0;
            for (int entry = table.First; entry < end; entry++)
            {
                if ((entry >> 8 & mask) == latch)
                    continue;
                if (wrong < 0)
                    wrong = entry;
                count++;
            }

            if (wrong < 0)
                continue;
            string which =
                count == end - table.First ? "every word"
                : count == 1 ? "the last word"
                : $"the last {count} words";
            report.Add(Catalogue.TableCrossesBorder, graph, at, which, Show.Hex(latch, 2), Show.Hex(wrong));
        }
    }
}
