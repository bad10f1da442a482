using AsmLsp.Core.Assembly;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Flow.Checks;

/// <summary>
/// An instruction continues where nothing was placed, or where text was. SLEEP may end a program, a call of a routine that
/// does not return too, and what lies in a part of memory that another program fills is not judged.
/// </summary>
internal sealed class RunsOffCheck : FlowCheck
{
    public override void Run(FlowGraph graph, FlowReport report)
    {
        FlowWalk walk = graph.Walk;
        for (int at = 0; at < graph.End; at++)
        {
            if (
                graph.ReachOf(at) != Reach.Certain
                || !graph.StateAt(at).IsReached
                || graph.InstructionAt(at) is not { } decoded
            )
                continue;
            Instruction instruction = decoded.Instruction;
            if (
                instruction.IsReturn
                || instruction.IsJump
                || instruction.Name == "sleep"
                || FlowWalk.WritesProgramCounter(graph.Walk.StepAt(at))
            )
                continue;
            if (instruction.IsCall && !Returns(graph, at))
                continue;
            if (IsBlank(walk, at + 1))
                Report(graph, report, at, at + 1, "nothing is placed");
            else if (IsText(graph, at + 1) && !IsText(graph, at))
                Report(graph, report, at, at + 1, "there is data that would run as instructions");
            else if (instruction.MaySkip && IsBlank(walk, at + 2))
                Report(graph, report, at, at + 2, "nothing is placed, when it skips");
        }
    }

    private static bool Returns(FlowGraph graph, int at)
    {
        int target = graph.Walk.TargetOf(at);
        return target != FlowWalk.None
            && graph.Calls.Routines.TryGetValue(target, out RoutineBody? routine)
            && routine is { IsOpaque: false, Returns.Count: > 0 };
    }

    private static bool IsBlank(FlowWalk walk, int address) =>
        walk.Next(address) is null && address < walk.Limit && walk.Device?.Calibration?.Address != address;

    // Words that are no instruction, and bytes of text; plain words may be instructions that the author wrote as numbers.
    private static bool IsText(FlowGraph graph, int address)
    {
        if (!graph.Walk.Has(address))
            return false;
        if (graph.InstructionAt(address) is null)
            return true;
        WordOrigin origin = graph.OriginOf(address);
        LineSyntax syntax = graph.Program.SyntaxOf(origin.File, origin.Line);
        return syntax.Keyword is Keyword.DataPackedText or Keyword.DataBytes or Keyword.DataEeprom;
    }

    private static void Report(FlowGraph graph, FlowReport report, int at, int address, string what) =>
        report.Add(
            Catalogue.RunsOffTheEnd,
            graph,
            at,
            Show.Hex(address),
            what,
            what.StartsWith("nothing", StringComparison.Ordinal)
                ? " Erased memory does nothing, so the program may come round to address 0 and begin again."
                : ""
        );
}
