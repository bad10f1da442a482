using AsmLsp.Core.Execution;

namespace AsmLsp.Core.Flow;

/// <summary>The loop in which a program stays once it has started: words that lead to each other and nowhere else.</summary>
/// <param name="Head">The address where the loop is entered.</param>
/// <param name="Entries">The instructions outside that lead into it; empty where the program begins in it.</param>
/// <param name="Words">Its words, without those of the routines that it calls.</param>
public sealed record MainLoop(int Head, IReadOnlyList<int> Entries, IReadOnlySet<int> Words)
{
    internal static MainLoop? Of(FlowGraph graph)
    {
        RoutineBody? body = graph.Calls.Main;
        var seen = new HashSet<RoutineBody>();
        while (body is not null && seen.Add(body))
        {
            if (In(graph, body) is { } found)
                return found;
            // A program may stay in a routine that never returns.
            body = body
                .Calls.Select(c => graph.Calls.Routines[c.Target])
                .Where(static r => !r.MayReturn)
                .MaxBy(static r => r.Words.Count);
        }

        return null;
    }

    // Strong components by two walks: the order in which words are left, then backwards in that order.
    private static MainLoop? In(FlowGraph graph, RoutineBody body)
    {
        var next = new List<int>();
        var words = new HashSet<int>(body.Words);
        // Too tangled to be followed.
        if (!words.Contains(body.Address))
            return null;
        var ahead = new Dictionary<int, int[]>();
        var after = new Dictionary<int, List<int>>();
        foreach (int at in words)
        {
            Follow(graph, at, next);
            ahead[at] = [.. next.Where(words.Contains)];
            foreach (int to in ahead[at])
            {
                if (!after.TryGetValue(to, out List<int>? from))
                    after.Add(to, from = []);
                from.Add(at);
            }
        }

        var component = new Dictionary<int, int>();
        int number = 0;
        foreach (int start in LeftLast(body.Address, ahead))
        {
            if (component.ContainsKey(start))
                continue;
            number++;
            var open = new Stack<int>();
            open.Push(start);
            component[start] = number;
            while (open.TryPop(out int at))
                foreach (int from in after.GetValueOrDefault(at) ?? [])
                    if (component.TryAdd(from, number))
                        open.Push(from);
        }

        MainLoop? best = null;
        foreach (IGrouping<int, int> group in component.GroupBy(static c => c.Value, static c => c.Key))
        {
            var loop = group.ToHashSet();
            bool isLoop = loop.Count > 1 || ahead[loop.First()].Contains(loop.First());
            if (!isLoop || loop.Any(at => ahead[at].Any(to => !loop.Contains(to))) || loop.Any(at => IsLeft(graph, at)))
                continue;
            if (best is not null && best.Words.Count >= loop.Count)
                continue;
            int[] entries = [.. component.Keys.Where(at => !loop.Contains(at) && ahead[at].Any(loop.Contains)).Order()];
            int head = entries.Length > 0 ? ahead[entries[0]].First(loop.Contains) : loop.Min();
            best = new MainLoop(head, entries, loop);
        }

        return best;
    }

    private static bool IsLeft(FlowGraph graph, int at) =>
        graph.Walk.StepAt(at).Operation is Operation.Return or Operation.Retlw or Operation.Retfie or Operation.None;

    private static void Follow(FlowGraph graph, int at, List<int> next)
    {
        graph.Walk.Successors(at, next);
        if (
            graph.Walk.StepAt(at).Operation == Operation.Call
            && graph.Calls.Routines.TryGetValue(graph.Walk.TargetOf(at), out RoutineBody? routine)
            && !routine.MayReturn
        )
            next.Clear();
    }

    private static List<int> LeftLast(int start, Dictionary<int, int[]> ahead)
    {
        var order = new List<int>();
        var seen = new HashSet<int>();
        var open = new Stack<(int At, bool IsDone)>();
        open.Push((start, false));
        while (open.TryPop(out (int At, bool IsDone) at))
        {
            if (at.IsDone)
            {
                order.Add(at.At);
                continue;
            }

            if (!seen.Add(at.At))
                continue;
            open.Push((at.At, true));
            foreach (int to in ahead[at.At])
                if (!seen.Contains(to))
                    open.Push((to, false));
        }

        order.Reverse();
        return order;
    }
}
