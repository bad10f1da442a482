using AsmLsp.Core.Flow.Checks;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Flow.Traps;

/// <summary>
/// A write to the EEPROM without its sequence (0x55 and 0xAA to EECON2, then WR, in five words running), with interrupts on in it, or
/// without WREN. Data sheet DS35007B, section 3.2, example 3-2: the sequence must be followed exactly, and interrupts be off in it.
/// </summary>
internal sealed class EepromWriteCheck : TrapCheck
{
    private const int FirstKey = 0x55,
        SecondKey = 0xAA;
    private const int Nearby = 12;

    public override void Run(TrapContext context, FlowReport report)
    {
        if (
            context.Device?.FindRegister("EECON1") is not { } control
            || context.AddressOf("EECON2") is not (>= 0 and var key)
        )
            return;
        int write = 0,
            allow = 0;
        foreach (Devices.BitField bit in control.Bits)
            if (bit.Name == "WR")
                write = 1 << bit.Number;
            else if (bit.Name == "WREN")
                allow = 1 << bit.Number;
        foreach (int at in context.UsesOf(control.Address))
        {
            if (!context.IsLive(at) || context.NameAt(at) != "bsf" || context.AccessAt(at).Mask != write)
                continue;
            if (Fault(context, at, key & 0x7F) is { } fault)
                report.Add(Catalogue.EepromWriteSequence, context.Graph, at, fault);
            else if (allow != 0 && !context.Interrupts.MaySet(control.Address, allow))
                report.Add(
                    Catalogue.EepromWriteSequence,
                    context.Graph,
                    at,
                    "WREN is never set, and without it nothing is written"
                );
            else if (IsInterrupted(context, at))
                report.Add(Catalogue.EepromWriteInterrupted, context.Graph, at);
        }
    }

    private static string? Fault(TrapContext context, int at, int key)
    {
        if (
            IsLoad(context, at - 4, FirstKey)
            && IsStore(context, at - 3, key)
            && IsLoad(context, at - 2, SecondKey)
            && IsStore(context, at - 1, key)
        )
            return null;
        int stores = 0;
        for (int i = at - Nearby; i < at; i++)
            if (IsStore(context, i, key))
                stores++;
        return stores == 0
            ? "0x55 and 0xAA are not written to EECON2 before it"
            : "0x55 and 0xAA must be written to EECON2 directly before it, with no other instruction between";
    }

    private static bool IsLoad(TrapContext context, int at, int value) =>
        context.At(at) is { Instruction.Name: "movlw" } load && load.First == value;

    private static bool IsStore(TrapContext context, int at, int key) =>
        context.At(at) is { Instruction.Name: "movwf" } store && store.First == key;

    private static bool IsInterrupted(TrapContext context, int at) =>
        context.Graph.Calls.Interrupt is not null
        && !context.InInterrupt[at]
        && !context.Interrupts.Enabled.IsEmpty
        && context.Interrupts.IsSurelyOn(at);
}
