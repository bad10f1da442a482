namespace AsmLsp.Core.Flow.Traps;

/// <summary>
/// The steps of a program backwards, through calls and returns too: from each word to those that may run directly before it. A step that is
/// not possible may be among them, so whoever finds nothing along them has a proof.
/// </summary>
internal sealed class PathEdges
{
    private readonly int[] starts;
    private readonly int[] before;

    public PathEdges(TrapContext context)
    {
        FlowGraph graph = context.Graph;
        FlowWalk walk = graph.Walk;
        var pairs = new List<(int To, int From)>(graph.End * 2);
        var next = new List<int>();
        for (int at = 0; at < graph.End; at++)
        {
            if (context.At(at) is not { } decoded)
                continue;
            if (decoded.Instruction.IsCall)
            {
                AddCall(graph, at, pairs);
                continue;
            }

            walk.Successors(at, next);
            foreach (int to in next)
                pairs.Add((to, at));
        }

        starts = new int[graph.End + 1];
        foreach ((int to, int _) in pairs)
            starts[to + 1]++;
        for (int i = 0; i < graph.End; i++)
            starts[i + 1] += starts[i];
        before = new int[pairs.Count];
        var filled = new int[graph.End];
        foreach ((int to, int from) in pairs)
            before[starts[to] + filled[to]++] = from;
    }

    /// <summary>The words that may run directly before one.</summary>
    public ReadOnlySpan<int> Before(int address) =>
        before.AsSpan(starts[address], starts[address + 1] - starts[address]);

    private static void AddCall(FlowGraph graph, int at, List<(int, int)> pairs)
    {
        FlowWalk walk = graph.Walk;
        int target = walk.TargetOf(at);
        int? after = walk.Next(at + 1);
        if (target == FlowWalk.None || !graph.Calls.Routines.TryGetValue(target, out RoutineBody? routine))
        {
            if (after is { } behind)
                pairs.Add((behind, at));
            return;
        }

        pairs.Add((target, at));
        if (after is not { } next)
            return;
        foreach (int ret in routine.Returns)
            pairs.Add((next, ret));
        if (routine.IsOpaque)
            pairs.Add((next, at));
    }
}
