using AsmLsp.Core.Flow.Checks;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Flow.Traps;

/// <summary>
/// A counter that is stepped, compared with its limit and cleared while it is still below: carry is taken in the wrong sense, and the
/// counter never gets beyond 1. After SUBWF carry is 1 when the register is not smaller than W: data sheet DS35007B, register 2-1.
/// </summary>
internal sealed class CounterResetCheck : TrapCheck
{
    private const int CarryMask = 1;

    public override void Run(TrapContext context, FlowReport report)
    {
        for (int at = 3; at < context.End; at++)
        {
            if (
                !context.IsLive(at)
                || context.NameAt(at) is not ("btfsc" or "btfss")
                || context.AccessAt(at) is not { Register: TrapContext.Status, Mask: CarryMask }
                || !IsStraight(context, at)
                || context.NameAt(at - 3) != "incf"
                || context.At(at - 3)!.Value.Second != 1
            )
                continue;
            string name = context.NameAt(at);
            int counter = context.At(at - 3)!.Value.First;
            if (ClearedAfter(context, at + 1) != counter)
                continue;
            // SUBWF n,w after MOVLW k: carry is 1 from k on. SUBLW k after MOVF n,w: carry is 1 up to k.
            bool bySubwf =
                context.At(at - 2) is { Instruction.Name: "movlw", First: >= 2 }
                && context.At(at - 1) is { Instruction.Name: "subwf", Second: 0 } compared
                && compared.First == counter;
            bool bySublw =
                context.At(at - 2) is { Instruction.Name: "movf", Second: 0 } read
                && read.First == counter
                && context.At(at - 1) is { Instruction.Name: "sublw", First: >= 1 };
            if ((bySubwf && name == "btfss") || (bySublw && name == "btfsc"))
                report.Add(
                    Catalogue.CarrySenseReversed,
                    context.Graph,
                    at,
                    context.RegisterName(at - 3),
                    Assembly.Show.Decimal(context.At(bySubwf ? at - 2 : at - 1)!.Value.First),
                    name == "btfss" ? "BTFSC" : "BTFSS"
                );
        }
    }

    private static bool IsStraight(TrapContext context, int at) =>
        !context.Graph.Walk.HasLabel(at)
        && !context.Graph.Walk.HasLabel(at - 1)
        && !context.Graph.Walk.HasLabel(at - 2)
        && !context.IsSkipped(at - 3);

    // The register that the instruction after the test clears, at once or as the first thing at its target.
    private static int ClearedAfter(TrapContext context, int at)
    {
        if (context.At(at) is { Instruction.IsJump: true })
            at = context.Graph.Walk.TargetOf(at);
        return context.At(at) is { Instruction.Name: "clrf" } cleared ? cleared.First : -1;
    }
}
