using System.Collections.Immutable;
using AsmLsp.Core.Devices;

namespace AsmLsp.Core.Flow.Traps;

/// <summary>One source of interrupts: the bit that lets it happen and the bit that reports it.</summary>
internal sealed record InterruptSource(
    string Enable,
    int EnableRegister,
    int EnableMask,
    string Flag,
    int FlagRegister,
    int FlagMask
);

/// <summary>Which interrupts a program allows, and where it can be interrupted.</summary>
internal sealed class InterruptFacts
{
    private readonly TrapContext context;

    public InterruptFacts(TrapContext context)
    {
        this.context = context;
        Sources = SourcesOf(context.Device);
        for (int at = 0; at < context.End; at++)
        {
            if (!context.IsLive(at))
                continue;
            (bool may, bool certain) = Sets(at, TrapContext.InterruptControl, TrapContext.GlobalEnable);
            MayBeEnabled |= may;
            if (certain && EnabledAt < 0)
                EnabledAt = at;
        }

        Enabled = [.. Sources.Where(s => MaySet(s.EnableRegister, s.EnableMask))];
    }

    /// <summary>The sources that the chip has.</summary>
    public ImmutableArray<InterruptSource> Sources { get; }

    /// <summary>The sources that the program may allow.</summary>
    public ImmutableArray<InterruptSource> Enabled { get; }

    /// <summary>Whether some instruction may set GIE.</summary>
    public bool MayBeEnabled { get; }

    /// <summary>The first instruction that certainly sets GIE, or -1.</summary>
    public int EnabledAt { get; } = -1;

    /// <summary>Whether an interrupt may come before the instruction at an address.</summary>
    public bool MayInterrupt(int address) => context.Graph.StateAt(address).MayInterrupt;

    /// <summary>Whether GIE is certainly 1 before the instruction at an address.</summary>
    public bool IsSurelyOn(int address) => context.Graph.StateAt(address).MustInterrupt;

    /// <summary>Whether any instruction may set a bit.</summary>
    public bool MaySet(int register, int mask)
    {
        foreach (int at in context.UsesOf(register))
            if (Sets(at, register, mask).May)
                return true;
        foreach (int at in context.UncertainWritesOf(register))
            if (context.NameAt(at) is not ("bcf" or "clrf" or "andwf") && (context.AccessAt(at).Mask & mask) != 0)
                return true;
        return context.WritesIndirectly && context.MayWrite(register);
    }

    /// <summary>Whether an instruction may, and whether it certainly does, set one bit of a register.</summary>
    public (bool May, bool Certain) Sets(int at, int register, int mask)
    {
        RegisterAccess access = context.AccessAt(at);
        if (access.Register != register || !access.Writes || (access.Mask & mask) == 0)
            return (false, false);
        switch (context.NameAt(at))
        {
            case "bsf":
                return (true, true);
            case "bcf" or "clrf" or "andwf":
                return (false, false);
            case "movwf":
                bool? bit = context.Graph.StateAt(at).WBit(mask);
                return (bit != false, bit == true);
            default:
                return (true, false);
        }
    }

    // INTCON, data sheet DS35007B, register 2-3; PIE1/PIR1 and PIE2/PIR2 hold enable and flag at the same bit, DS30292C, registers 2-4 to 2-7.
    private static ImmutableArray<InterruptSource> SourcesOf(Device? device)
    {
        if (device?.FindRegister("INTCON") is not { } control)
            return [];
        var sources = ImmutableArray.CreateBuilder<InterruptSource>();
        foreach (BitField bit in control.Bits)
        {
            if (bit.Name == "EEIE" && device.FindRegister("EECON1") is { } eeprom && Find(eeprom, "EEIF") is { } done)
                sources.Add(Source(bit, done));
            else if (bit.Number is 3 or 4 or 5 && bit.Name.EndsWith('E') && control.Bit(bit.Number - 3) is { } flag)
                sources.Add(Source(bit, flag));
        }

        foreach (string number in (string[])["1", "2"])
        {
            if (
                device.FindRegister("PIE" + number) is not { } enables
                || device.FindRegister("PIR" + number) is not { } flags
            )
                continue;
            foreach (BitField bit in enables.Bits)
                if (flags.Bit(bit.Number) is { } flag)
                    sources.Add(Source(bit, flag));
        }

        return sources.ToImmutable();
    }

    private static BitField? Find(Register register, string name)
    {
        foreach (BitField bit in register.Bits)
            if (bit.Name == name)
                return bit;
        return null;
    }

    private static InterruptSource Source(BitField enable, BitField flag) =>
        new(
            enable.ToString(),
            enable.Register.Address,
            1 << enable.Number,
            flag.ToString(),
            flag.Register.Address,
            1 << flag.Number
        );
}
