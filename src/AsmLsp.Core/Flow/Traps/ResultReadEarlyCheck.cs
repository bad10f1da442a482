using AsmLsp.Core.Devices;
using AsmLsp.Core.Flow.Checks;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Flow.Traps;

/// <summary>
/// The result of the A/D converter is read a few instructions after the conversion was started, with no wait for its end. A conversion takes
/// 12 times 1.6 microseconds at least: data sheet DS30292C, section 11.2.
/// </summary>
internal sealed class ResultReadEarlyCheck : TrapCheck
{
    private const int Soon = 10;
    private const double SlowClock = 2_000_000;

    public override void Run(TrapContext context, FlowReport report)
    {
        if (context.Device?.FindRegister("ADCON0") is not { } control)
            return;
        int start = 0;
        foreach (BitField bit in control.Bits)
            if (bit.Name.StartsWith("GO", StringComparison.Ordinal))
                start = 1 << bit.Number;
        int result = context.AddressOf("ADRESH") is >= 0 and var high ? high : context.AddressOf("ADRES");
        if (start == 0 || result < 0 || context.UsesOf(result).Count == 0)
            return;
        if (ClockFinder.Find(context.Graph.Program, context.Graph.Program.Options.ClockHertz) is { Hertz: < SlowClock })
            return;
        foreach (int at in context.UsesOf(control.Address))
            if (
                context.IsLive(at)
                && context.NameAt(at) == "bsf"
                && context.AccessAt(at).Mask == start
                && FirstRead(context, at, result) is { } read
            )
                report.Add(
                    Catalogue.ResultReadEarly,
                    context.Graph,
                    read,
                    context.RegisterName(read),
                    Assembly.Show.Decimal(context.LineOf(at))
                );
    }

    // Along the straight path: a test, a call or SLEEP may wait.
    private static int? FirstRead(TrapContext context, int start, int result)
    {
        int at = start + 1;
        for (int i = 0; i < Soon && context.At(at) is { } decoded; i++)
        {
            RegisterAccess access = context.AccessAt(at);
            if (access.Register == result && access.Reads)
                return at;
            if (
                decoded.Instruction.MaySkip
                || decoded.Instruction.IsCall
                || decoded.Instruction.IsReturn
                || decoded.Instruction.Name == "sleep"
                || FlowWalk.WritesProgramCounter(context.Graph.Walk.StepAt(at))
            )
                return null;
            at = decoded.Instruction.IsJump ? context.Graph.Walk.TargetOf(at) : at + 1;
            if (at <= start && at >= 0)
                return null;
        }

        return null;
    }
}
