using System.Globalization;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Flow.Checks;

/// <summary>Calls inside each other, more than the stack holds; routines that never return are left out, and so are circles.</summary>
internal sealed class StackDepthCheck : FlowCheck
{
    private const int UsualDepth = 8;

    public override void Run(FlowGraph graph, FlowReport report)
    {
        int most = graph.Walk.Device?.StackDepth ?? UsualDepth;
        var known = new Dictionary<int, int?>();
        foreach (RoutineBody? root in (ReadOnlySpan<RoutineBody?>)[graph.Calls.Main, graph.Calls.Interrupt])
        {
            // The interrupt itself puts one address on the stack before its code calls anything.
            int taken = root is not null && root == graph.Calls.Interrupt ? 1 : 0;
            if (
                root is null
                || CallDepth.Chain(graph.Calls, root, known) is not { } chain
                || chain.Count + taken <= most
            )
                continue;
            int site = chain[most - taken];
            if (graph.ReachOf(site) != Reach.Certain)
                continue;
            string names = string.Join(
                ", ",
                chain.Take(most - taken + 1).Select(at => Name(graph, graph.Walk.TargetOf(at)))
            );
            string holds =
                most.ToString(CultureInfo.InvariantCulture) + (taken > 0 ? " with that of the interrupt" : "");
            report.Add(
                Catalogue.StackTooDeep,
                graph,
                site,
                (most - taken + 1).ToString(CultureInfo.InvariantCulture),
                names,
                holds
            );
        }
    }

    private static string Name(FlowGraph graph, int address) =>
        RoutineFacts.LabelAt(graph.Program, address) ?? Assembly.Show.Hex(address);
}
