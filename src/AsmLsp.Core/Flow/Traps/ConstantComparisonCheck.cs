using AsmLsp.Core.Flow.Checks;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Flow.Traps;

/// <summary>
/// A comparison with a constant that comes out the same for every value, and a test of its flag: one of the two branches never runs. Carry
/// after a subtraction is 1 when nothing is borrowed: data sheet DS35007B, register 2-1.
/// </summary>
internal sealed class ConstantComparisonCheck : TrapCheck
{
    private const int CarryMask = 1,
        ZeroMask = 4;

    public override void Run(TrapContext context, FlowReport report)
    {
        for (int at = 1; at < context.End; at++)
        {
            if (
                !context.IsLive(at)
                || context.NameAt(at) is not ("btfsc" or "btfss")
                || context.AccessAt(at) is not { Register: TrapContext.Status, Mask: CarryMask or ZeroMask } test
                || context.Graph.Walk.HasLabel(at)
                || context.IsSkipped(at - 1)
                || context.Graph.OriginOf(at - 1).Via is not null
                || Always(context, at - 1, test.Mask == CarryMask) is not { } fixedResult
            )
                continue;
            bool skips = (context.NameAt(at) == "btfss") == fixedResult.Flag;
            report.Add(Catalogue.ComparisonAlwaysSame, context.Graph, at, fixedResult.Why, skips ? "always" : "never");
        }
    }

    private static (bool Flag, string Why)? Always(TrapContext context, int at, bool carry)
    {
        if (context.At(at) is not { } decoded)
            return null;
        int k = decoded.First;
        return (decoded.Instruction.Name, carry) switch
        {
            ("sublw", true) when k == 0xFF => (true, "255 minus any value gives no borrow, so carry is always 1"),
            ("addlw", true) when k == 0 => (false, "adding 0 gives no carry, so carry is always 0"),
            ("andlw", false) when k == 0 => (true, "the result of ANDLW 0 is always 0"),
            ("iorlw", false) when k != 0 => (false, $"the result of IORLW {Assembly.Show.Hex(k, 2)} is never 0"),
            ("subwf", true)
                when context.At(at - 1) is { Instruction.Name: "movlw", First: 0 }
                    && !context.Graph.Walk.HasLabel(at)
                    && !context.IsSkipped(at - 1) => (true, "subtracting 0 gives no borrow, so carry is always 1"),
            _ => null,
        };
    }
}
