using AsmLsp.Core.Assembly;
using AsmLsp.Core.Flow;
using AsmLsp.Core.Instructions;

namespace AsmLsp.Core.Explain;

/// <summary>How long a call, the loop that a jump closes, or the selection that a skip begins takes.</summary>
internal static class TimeExplainer
{
    /// <summary>What is to say at an instruction, or null.</summary>
    public static string? Of(ExplainContext context, in DecodedInstruction decoded)
    {
        if (context.Program.HasErrors || context.Program.Device is null || context.Facts.Address < 0)
            return null;
        FlowGraph graph = FlowGraph.Of(context.Program);
        int address = context.Facts.Address;
        if (decoded.Instruction.IsCall)
            return graph.Times.Call(address) is { } call
                ? $"The call, the routine and its return take {call.Describe(context.Clock)}"
                : null;
        if (decoded.Instruction.IsJump && graph.Times.Loop(address) is { } loop)
            return $"Closes the loop from {Place(context, graph, loop.Head)}{Loop(context, loop)}";
        if (decoded.Instruction.MaySkip && graph.Times.Selection(address) is { } selection)
            return $"Both paths meet in {Place(context, graph, selection.Meets)}, after {selection.Cycles.Describe(context.Clock)}";
        return null;
    }

    /// <summary>The loop that begins at a label, the outermost one, or null.</summary>
    public static string? Head(ExplainContext context, FlowGraph graph, int address)
    {
        int outermost = -1;
        foreach (int back in graph.Times.LoopEnds())
            if (graph.Walk.TargetOf(back) == address)
                outermost = back;
        return outermost >= 0 && graph.Times.Loop(outermost) is { } loop
            ? $"Loop up to {Place(context, graph, loop.Back)}{Loop(context, loop)}"
            : null;
    }

    private static string Loop(ExplainContext context, LoopTime loop)
    {
        string whole = loop.Whole is { } all ? $": {all.Describe(context.Clock)} in all" : "";
        if (loop.Lap is not { } lap || lap == loop.Whole)
            return whole;
        return whole + (whole.Length > 0 ? ", " : ": ") + $"a lap takes {lap.Describe(context.Clock)}";
    }

    private static string Place(ExplainContext context, FlowGraph graph, int address)
    {
        WordOrigin origin = graph.OriginOf(address);
        return context.PlaceOf(graph.PlaceOf(address))
            + (origin.Via is { } via ? $" (through the macro {MarkdownText.Code(via.Name)})" : "");
    }
}
