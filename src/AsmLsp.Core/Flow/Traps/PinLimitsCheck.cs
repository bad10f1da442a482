using AsmLsp.Core.Devices;
using AsmLsp.Core.Flow.Checks;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Flow.Traps;

/// <summary>A pin that cannot be an output is set; or one that only pulls low (open drain) is set high.</summary>
internal sealed class PinLimitsCheck : TrapCheck
{
    public override void Run(TrapContext context, FlowReport report)
    {
        if (context.Device is not { } device || (device.InputOnlyPins.IsEmpty && device.OpenDrainPins.IsEmpty))
            return;
        var done = new HashSet<string>(StringComparer.Ordinal);
        for (int at = 0; at < context.End; at++)
        {
            if (
                !context.IsLive(at)
                || context.NameAt(at) != "bsf"
                || context.AccessAt(at) is not { IsCertain: true } access
                || context.Ports.At(access.Register) is not { } use
            )
                continue;
            int number = int.TrailingZeroCount(access.Mask);
            string pin = use.Pin(number);
            if (!done.Add(pin))
                continue;
            if (device.InputOnlyPins.Contains(pin))
                report.Add(Catalogue.InputOnlyPinDriven, context.Graph, at, pin, device.Name);
            else if (device.OpenDrainPins.Contains(pin) && (use.MayBeOutput & access.Mask) != 0)
                report.Add(Catalogue.OpenDrainPinHigh, context.Graph, at, pin, device.Name);
        }
    }
}
