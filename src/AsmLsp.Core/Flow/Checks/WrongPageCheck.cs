using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Flow.Checks;

/// <summary>A call or jump while PCLATH holds another page on every way.</summary>
internal sealed class WrongPageCheck : FlowCheck
{
    private const int PageSize = 0x800;

    public override void Run(FlowGraph graph, FlowReport report)
    {
        if (graph.Walk.Device is not { ProgramPages: > 1 } device)
            return;
        int mask = device.ProgramPages == 2 ? 0x08 : 0x18;
        for (int at = 0; at < graph.End; at++)
        {
            if (graph.ReachOf(at) != Reach.Certain || graph.InstructionAt(at) is not { } decoded)
                continue;
            if (!decoded.Instruction.IsCall && !decoded.Instruction.IsJump)
                continue;
            if (graph.StateAt(at).LatchValue(mask) is not { } latch)
                continue;
            if (
                graph.Walk.Intended(at) is not { } full
                || (full & (PageSize - 1)) != decoded.First
                || full < 0
                || full >= device.ProgramWords
            )
                continue;
            if ((full >> 8 & mask) == latch)
                continue;
            string name = graph.Walk.OperandOf(at) is NameExpression named ? named.Name : Show.Hex(full);
            report.Add(
                Catalogue.WrongPage,
                graph,
                at,
                name,
                (full >> 11).ToString(CultureInfo.InvariantCulture),
                (latch >> 3).ToString(CultureInfo.InvariantCulture),
                decoded.Instruction.IsCall ? "call" : "jump",
                Show.Hex((latch << 8) | decoded.First)
            );
        }
    }
}
