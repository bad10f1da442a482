using AsmLsp.Core.Devices;
using AsmLsp.Core.Flow.Checks;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Flow.Traps;

/// <summary>
/// Two output pins of one port are set by BSF while an analog part owns them after reset and nothing frees them: such pins read 0, so that
/// setting the one writes 0 to the other (data sheets DS30292C, section 3.1, and DS41190C, section 3.1).
/// </summary>
internal sealed class AnalogOutputCheck : TrapCheck
{
    public override void Run(TrapContext context, FlowReport report)
    {
        if (context.Device is not { } device || context.HasWildJump || context.Graph.Calls.Main is null)
            return;
        foreach (NotDigitalAtReset owner in device.NotDigitalAtReset)
        {
            if (!PinsNotDigitalCheck.KeepsItsPins(context.Graph, owner, out string registers))
                continue;
            foreach (PortUse use in context.Ports.All)
                Judge(context, report, owner, registers, use);
        }
    }

    private static void Judge(
        TrapContext context,
        FlowReport report,
        NotDigitalAtReset owner,
        string registers,
        PortUse use
    )
    {
        int pins = 0;
        for (int pin = 0; pin < 8; pin++)
            if (owner.Pins.Contains(use.Pin(pin)))
                pins |= 1 << pin;
        pins &= use.SetByBit & use.MayBeOutput;
        if (int.PopCount(pins) < 2)
            return;
        int first = -1;
        foreach (int at in context.UsesOf(use.Port.Address))
        {
            RegisterAccess access = context.AccessAt(at);
            if (!context.IsLive(at) || !access.IsCertain || context.NameAt(at) != "bsf" || (access.Mask & pins) == 0)
                continue;
            int pin = int.TrailingZeroCount(access.Mask);
            if (first < 0)
                first = pin;
            if (pin == first)
                continue;
            report.Add(
                Catalogue.AnalogOutputLost,
                context.Graph,
                at,
                use.Pin(first),
                use.Port.Name,
                owner.What,
                registers
            );
            return;
        }
    }
}
