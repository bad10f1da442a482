using AsmLsp.Core.Assembly;
using AsmLsp.Core.Flow;

namespace AsmLsp.Core.Explain;

/// <summary>What the paths through the program say of a routine; nothing while the program has errors.</summary>
internal static class FlowExplainer
{
    private const int MostNames = 5;

    /// <summary>The extent, time and calls of the routine that starts at an address, as entries of a list.</summary>
    public static void Routine(ExplainContext context, int address, MarkdownText text)
    {
        if (context.Program.HasErrors)
            return;
        FlowGraph graph = FlowGraph.Of(context.Program);
        if (graph.Routine(address) is not { } routine)
        {
            if (
                context.Program.Image.TryGet(address, out _, out _)
                && graph.ReachOf(address) == Reach.None
                && address < graph.End
            )
                text.Bullet("No path leads here from the reset or an interrupt");
            else if (TimeExplainer.Head(context, graph, address) is { } loop)
                text.Bullet(loop);
            return;
        }

        string words = routine.Words == 1 ? "1 word" : $"{routine.Words} words";
        string time = routine.Cycles is { } cycles
            ? $"; {cycles.Describe(context.Clock)} with the return, without the call"
            : "";
        text.Bullet($"Routine of {words}{time}");
        if (routine.Calls.Length > 0)
        {
            string names = string.Join(
                ", ",
                routine
                    .Calls.Take(MostNames)
                    .Select(c => MarkdownText.Code(RoutineFacts.LabelAt(context.Program, c) ?? Show.Hex(c)))
            );
            text.Bullet(
                $"Calls {names}{(routine.Calls.Length > MostNames ? $" and {routine.Calls.Length - MostNames} more" : "")}"
            );
        }

        if (routine.Depth is > 0 and { } depth)
            text.Bullet(
                $"Calls inside it are {depth} deep, of {graph.Program.Device?.StackDepth ?? 8} return addresses"
            );
    }
}
