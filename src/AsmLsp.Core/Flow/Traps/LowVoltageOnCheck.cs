using AsmLsp.Core.Devices;
using AsmLsp.Core.Flow.Checks;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Flow.Traps;

/// <summary>
/// The configuration leaves low-voltage programming on and no bit instruction uses its pin: an open or high pin puts the chip into
/// programming mode (data sheet DS40044B, section 14.11).
/// </summary>
internal sealed class LowVoltageOnCheck : TrapCheck
{
    public override void Run(TrapContext context, FlowReport report)
    {
        if (
            context.Device is not { LowVoltageProgramming: { } programming }
            || ConfigurationPlace.Of(context.Graph, ConfigRole.LowVoltageProgramming)
                is not { Setting.State: ConfigState.On } configured
        )
            return;
        foreach (PortUse use in context.Ports.All)
            for (int pin = 0; pin < 8; pin++)
                if (
                    use.Pin(pin) == programming.Pin
                    && ((use.SetByBit | use.ClearedByBit | use.Tested) & (1 << pin)) != 0
                )
                    return;
        report.Add(Catalogue.LowVoltageOn, configured.Place, null, programming.Pin);
    }
}
