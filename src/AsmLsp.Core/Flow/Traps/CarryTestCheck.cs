using AsmLsp.Core.Flow.Checks;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Flow.Traps;

/// <summary>
/// Carry is tested directly after INCF or DECF, which leave it as it was (data sheet DS35007B, table 7-2), and nothing before them in the
/// same piece of code sets it: the high byte of a counter never changes.
/// </summary>
internal sealed class CarryTestCheck : TrapCheck
{
    private const int LooksBack = 12,
        CarryMask = 1;

    public override void Run(TrapContext context, FlowReport report)
    {
        for (int at = 1; at < context.End; at++)
        {
            if (
                !context.IsLive(at)
                || context.NameAt(at) is not ("btfsc" or "btfss")
                || context.AccessAt(at) is not { Register: TrapContext.Status, Mask: CarryMask }
                || context.NameAt(at - 1) is not ("incf" or "decf")
                || context.Graph.Walk.HasLabel(at)
                || IsSetBefore(context, at - 1)
            )
                continue;
            report.Add(
                Catalogue.CarryNotChanged,
                context.Graph,
                at,
                context.NameAt(at - 1).ToUpperInvariant(),
                context.NameAt(at - 1) == "incf" ? "for 0 (Z)" : "for 0 before it is counted down"
            );
        }
    }

    // A call may set carry too.
    private static bool IsSetBefore(TrapContext context, int from)
    {
        for (int at = from; at >= 0 && at > from - LooksBack; at--)
        {
            if (context.At(at) is not { } decoded)
                return false;
            if (decoded.Instruction.IsCall || (decoded.Instruction.Affects & StatusFlags.Carry) != 0)
                return true;
            if (
                context.AccessAt(at) is { Writes: true, Register: TrapContext.Status } access
                && (access.Mask & CarryMask) != 0
            )
                return true;
            // What runs before a label is not known from here, but a counter is stepped directly after it.
            if (context.Graph.Walk.HasLabel(at) || context.Graph.Walk.EndsRun(at - 1 < 0 ? 0 : at - 1))
                return false;
        }

        return false;
    }
}
