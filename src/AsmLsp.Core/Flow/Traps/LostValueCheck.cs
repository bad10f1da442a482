using AsmLsp.Core.Flow.Checks;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Flow.Traps;

/// <summary>MOVLW, and the next instruction gives W another value without using the first: often MOVWF was meant.</summary>
internal sealed class LostValueCheck : TrapCheck
{
    public override void Run(TrapContext context, FlowReport report)
    {
        for (int at = 0; at + 1 < context.End; at++)
        {
            if (
                !context.IsLive(at)
                || context.At(at) is not { Instruction.Name: "movlw" } first
                || context.At(at + 1) is not { } second
                || second.Instruction.IsReturn
                || !InterruptContextCheck.WritesW(second)
                || InterruptContextCheck.ReadsW(second)
                || context.Graph.Walk.HasLabel(at + 1)
                || context.IsSkipped(at)
                || context.Graph.OriginOf(at).Via is not null
                || context.Graph.OriginOf(at + 1).Via is not null
            )
                continue;
            report.Add(
                Catalogue.ValueLost,
                context.Graph,
                at,
                Assembly.Show.Hex(first.First, 2),
                second.Instruction.Name.ToUpperInvariant()
            );
        }
    }
}
