using AsmLsp.Core.Devices;
using AsmLsp.Core.Flow.Checks;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Flow.Traps;

/// <summary>
/// The reset pin is tested although the configuration keeps it as reset, so that the chip does not run while it is low; or it is an input
/// that nothing reads (data sheet DS41190C, section 9.3.1).
/// </summary>
internal sealed class ResetPinCheck : TrapCheck
{
    public override void Run(TrapContext context, FlowReport report)
    {
        if (
            context.Device?.FindField(ConfigRole.ResetPin) is not { Field.Pin: { } pin }
            || ConfigurationPlace.Of(context.Graph, ConfigRole.ResetPin) is not { } configured
        )
            return;
        int tested = -1;
        bool isRead = context.HasWildJump;
        foreach (PortUse use in context.Ports.All)
        foreach (int at in context.UsesOf(use.Port.Address))
        {
            RegisterAccess access = context.AccessAt(at);
            if (!access.Reads)
                continue;
            if (access.Mask == 0xFF)
                isRead = true;
            else if (!access.Writes && use.Pin(int.TrailingZeroCount(access.Mask)) == pin)
                (tested, isRead) = (tested < 0 && context.IsLive(at) && access.IsCertain ? at : tested, true);
        }

        if (configured.Setting.State == ConfigState.On && tested >= 0)
            report.Add(Catalogue.ResetPinRead, context.Graph, tested, pin);
        else if (configured.Setting.State == ConfigState.Off && !isRead)
            report.Add(Catalogue.ResetPinOpen, configured.Place, null, pin);
    }
}
