using AsmLsp.Core.Devices;
using AsmLsp.Core.Flow.Checks;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Flow.Traps;

/// <summary>
/// A whole port is read while an analog part owns pins of it after reset, and no word of the program can free them. Those pins read 0; whether
/// the program wants them is not known, so this is a note.
/// </summary>
internal sealed class PortReadCheck : TrapCheck
{
    public override void Run(TrapContext context, FlowReport report)
    {
        if (context.Device is not { } device || context.Graph.Calls.Main is null)
            return;
        foreach (NotDigitalAtReset owner in device.NotDigitalAtReset)
        {
            if (!PinsNotDigitalCheck.KeepsItsPins(context.Graph, owner, out string registers))
                continue;
            foreach (PortUse use in context.Ports.All)
                if (FirstRead(context, use, owner) is { } at)
                    report.Add(
                        Catalogue.PortReadAnalog,
                        context.Graph,
                        at,
                        use.Port.Name,
                        owner.What,
                        registers,
                        string.Join(", ", owner.Pins.Where(p => IsOf(use, p)))
                    );
        }
    }

    private static bool IsOf(PortUse use, string pin) => pin.Length > 0 && use.Pin(pin[^1] - '0') == pin;

    private static int? FirstRead(TrapContext context, PortUse use, NotDigitalAtReset owner)
    {
        int owned = 0;
        foreach (string pin in owner.Pins)
            if (IsOf(use, pin))
                owned |= 1 << (pin[^1] - '0');
        // A pin of them that is tested has its own problem.
        if (owned == 0 || (use.Tested & owned) != 0)
            return null;
        foreach (int at in context.UsesOf(use.Port.Address))
        {
            if (
                !context.IsLive(at)
                || context.NameAt(at) != "movf"
                || context.At(at)!.Value.Second != 0
                || !context.AccessAt(at).IsCertain
            )
                continue;
            // The pins of others alone are taken.
            if (context.At(at + 1) is { Instruction.Name: "andlw" } mask && (mask.First & owned) == 0)
                continue;
            return at;
        }

        return null;
    }
}
