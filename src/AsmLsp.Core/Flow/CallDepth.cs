namespace AsmLsp.Core.Flow;

/// <summary>How deep calls are nested.</summary>
internal static class CallDepth
{
    /// <summary>Return addresses that the calls inside a routine put on the stack at the most; null where it comes to call itself.</summary>
    public static int? Of(FlowGraph graph, RoutineBody routine) => Of(graph.Calls, routine, []);

    /// <summary>The deepest chain of calls from a routine on: the addresses of the calls, the outermost first; null where there is a circle.</summary>
    public static List<int>? Chain(CallGraph calls, RoutineBody routine, Dictionary<int, int?> known)
    {
        if (Of(calls, routine, known) is null)
            return null;
        var chain = new List<int>();
        RoutineBody? at = routine;
        while (at is not null)
        {
            (int Site, RoutineBody Called)? deepest = null;
            int most = 0;
            foreach ((int site, int target) in at.Calls)
            {
                RoutineBody called = calls.Routines[target];
                if (!called.MayReturn || Of(calls, called, known) is not { } depth || depth + 1 <= most)
                    continue;
                (most, deepest) = (depth + 1, (site, called));
            }

            if (deepest is { } next)
                chain.Add(next.Site);
            at = deepest?.Called;
        }

        return chain;
    }

    // A routine that never returns needs no return address kept: calls of such routines are jumps.
    public static int? Of(CallGraph calls, RoutineBody routine, Dictionary<int, int?> known)
    {
        var order = new Stack<(RoutineBody Body, bool IsDone)>();
        order.Push((routine, false));
        var running = new HashSet<RoutineBody>();
        int? result = 0;
        while (order.TryPop(out (RoutineBody Body, bool IsDone) at))
        {
            if (at.IsDone)
            {
                running.Remove(at.Body);
                int? depth = Deepest(calls, at.Body, known);
                if (at.Body == routine)
                    result = depth;
                else
                    known[at.Body.Address] = depth;
                continue;
            }

            if (at.Body != routine && known.ContainsKey(at.Body.Address))
                continue;
            if (!running.Add(at.Body))
                continue;
            order.Push((at.Body, true));
            foreach ((_, int target) in at.Body.Calls)
            {
                RoutineBody called = calls.Routines[target];
                if (!called.MayReturn || known.ContainsKey(target))
                    continue;
                if (running.Contains(called))
                {
                    known[target] = null;
                    continue;
                }

                order.Push((called, false));
            }
        }

        return result;
    }

    private static int? Deepest(CallGraph calls, RoutineBody routine, Dictionary<int, int?> known)
    {
        if (known.TryGetValue(routine.Address, out int? circle) && circle is null)
            return null;
        int most = 0;
        foreach ((_, int target) in routine.Calls)
        {
            if (!calls.Routines[target].MayReturn)
                continue;
            if (!known.TryGetValue(target, out int? depth) || depth is null)
                return null;
            most = Math.Max(most, depth.Value + 1);
        }

        return most;
    }
}
