using AsmLsp.Core.Execution;

namespace AsmLsp.Core.Flow;

/// <summary>The parts of a <see cref="FlowState"/> that a routine may change.</summary>
/// <param name="Status">Bits of STATUS: RP0, RP1, IRP.</param>
/// <param name="Latch">Bits of PCLATH.</param>
/// <param name="Pointer">Whether FSR is written.</param>
/// <param name="Interrupts">Whether interrupts are switched on or off.</param>
internal readonly record struct StateChange(int Status, int Latch, bool Pointer, bool Interrupts)
{
    private const int StatusBits = 0xE0,
        LatchBits = 0x1F,
        GlobalInterruptBit = 0x80;

    /// <summary>Everything may change.</summary>
    public static StateChange All { get; } = new(StatusBits, LatchBits, true, true);

    /// <summary>The bits of STATUS that choose a bank for direct access.</summary>
    public int Bank => Status & FlowState.BankBits;

    /// <summary>What either of two changes.</summary>
    public StateChange Join(in StateChange other) =>
        new(Status | other.Status, Latch | other.Latch, Pointer | other.Pointer, Interrupts | other.Interrupts);

    /// <summary>What one instruction may change.</summary>
    public static StateChange Of(in DecodedStep step)
    {
        int bits = step.WrittenBits;
        if (step.Operation == Operation.Retfie)
            return new(0, 0, false, true);
        if (bits == 0)
            return default;
        return step.First switch
        {
            DataSpace.Status => new(bits & StatusBits, 0, false, false),
            DataSpace.Latch => new(0, bits & LatchBits, false, false),
            DataSpace.Pointer => new(0, 0, true, false),
            DataSpace.InterruptControl => new(0, 0, false, (bits & GlobalInterruptBit) != 0),
            _ => default,
        };
    }
}
