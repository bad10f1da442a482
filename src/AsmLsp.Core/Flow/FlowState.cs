using System.Numerics;
using AsmLsp.Core.Execution;

namespace AsmLsp.Core.Flow;

/// <summary>
/// What is known, before an instruction, of the bits that choose banks and pages, whatever path led there: which banks may be selected,
/// and for every other bit whether it may be 0 and whether it may be 1. Nothing at all belongs to an instruction that nothing reaches.
/// </summary>
/// <remarks>
/// W and FSR are followed as far as they carry constants. A write through FSR is taken to reach memory, not STATUS or PCLATH:
/// programs that clear their memory would otherwise leave nothing known.
/// </remarks>
public readonly record struct FlowState
{
    internal const int StatusRegister = DataSpace.Status,
        LatchRegister = DataSpace.Latch,
        BankBits = 0x60,
        LatchBits = 0x1F;

    // The places of the parts in one number, so that two paths join by OR.
    private const int IrpAt = 4,
        InterruptAt = 6,
        LatchAt = 8,
        WAt = 24,
        PointerAt = 40,
        AnyBank = 0xF,
        Rp0Bit = 0x20,
        Rp1Bit = 0x40,
        IrpBit = 0x80,
        GlobalInterruptBit = 0x80;

    private readonly ulong bits;

    private FlowState(ulong bits) => this.bits = bits;

    /// <summary>After a reset: bank 0, PCLATH 0, interrupts off (data sheet DS35007B, table 6-3), W and FSR unknown.</summary>
    public static FlowState Reset { get; } =
        new FlowState(1)
            .With(IrpAt, 1, 1, 0)
            .With(InterruptAt, 1, 1, 0)
            .With(LatchAt, LatchBits, LatchBits, 0)
            .WithoutW()
            .WithoutPointer();

    /// <summary>Nothing known.</summary>
    public static FlowState Unknown { get; } =
        new FlowState(AnyBank)
            .With(IrpAt, 1, 1, 1)
            .With(InterruptAt, 1, 1, 1)
            .With(LatchAt, LatchBits, LatchBits, LatchBits)
            .WithoutW()
            .WithoutPointer();

    /// <summary>Whether any path leads here.</summary>
    public bool IsReached => bits != 0;

    /// <summary>Bit RP0 of STATUS: false, true, or null where it is not known.</summary>
    public bool? Rp0 => Known((bits & 0b0101) != 0, (bits & 0b1010) != 0);

    /// <summary>Bit RP1 of STATUS: false, true, or null where it is not known.</summary>
    public bool? Rp1 => Known((bits & 0b0011) != 0, (bits & 0b1100) != 0);

    /// <summary>Bit IRP of STATUS, the upper bit of indirect addresses: false, true, or null where it is not known.</summary>
    public bool? Irp => Bit(IrpAt, 1, 1);

    /// <summary>The value of W, or null where it is not known.</summary>
    public int? W => Value(WAt, 0xFF);

    /// <summary>The value of FSR, or null where it is not known.</summary>
    public int? Pointer => Value(PointerAt, 0xFF);

    /// <summary>Whether interrupts may be on (GIE).</summary>
    public bool MayInterrupt => (Ones(InterruptAt, 1) & 1) != 0;

    /// <summary>A bit (0..4) of PCLATH: false, true, or null where it is not known.</summary>
    public bool? Latch(int bit) => Bit(LatchAt, LatchBits, 1 << bit);

    /// <summary>The bank (0..3) that is selected on a chip with that many banks (2 or 4), or null where it is not known.</summary>
    public int? Bank(int banks)
    {
        int may = Banks(banks);
        return BitOperations.IsPow2(may) ? BitOperations.Log2((uint)may) : null;
    }

    /// <summary>Whether a bank (0..3) may be the selected one.</summary>
    public bool MayBeBank(int bank, int banks) => (Banks(banks) >> bank & 1) != 0;

    /// <summary>The bits of PCLATH in a mask (of 0x1F), or null where one of them is not known.</summary>
    public int? LatchValue(int mask) => Value(LatchAt, LatchBits, mask);

    /// <summary>Bits of W that may be 1.</summary>
    internal int MostOfW => Ones(WAt, 0xFF);

    /// <summary>Whether interrupts are certainly on (GIE).</summary>
    internal bool MustInterrupt => Bit(InterruptAt, 1, 1) == true;

    /// <summary>A bit of W by its mask: false, true, or null where it is not known.</summary>
    internal bool? WBit(int mask) => Bit(WAt, 0xFF, mask);

    /// <summary>Whether a value of PCLATH is possible in the bits of a mask.</summary>
    internal bool MayBeLatch(int value, int mask) =>
        (mask & ~((value & Ones(LatchAt, LatchBits)) | (~value & Zeros(LatchAt, LatchBits)))) == 0;

    /// <summary>Whether a state that a program is really in is among those that this one means.</summary>
    internal bool Covers(Processor chip) =>
        (bits >> ((chip.Status & BankBits) >> 5) & 1) != 0
        && May(IrpAt, 1, chip.Status >> 7 & 1)
        && May(InterruptAt, 1, chip.Peek(DataSpace.InterruptControl) >> 7)
        && May(LatchAt, LatchBits, chip.Latch)
        && May(WAt, 0xFF, chip.W)
        && May(PointerAt, 0xFF, chip.Peek(DataSpace.Pointer));

    /// <summary>What is known where two paths meet.</summary>
    internal FlowState Join(in FlowState other) => new(bits | other.bits);

    /// <summary>The state after an instruction, before the next one on its path.</summary>
    internal FlowState After(in DecodedStep step)
    {
        switch (step.Operation)
        {
            case Operation.Bcf:
            case Operation.Bsf:
                return WithBit(step.First, 1 << step.Second, step.Operation == Operation.Bsf);
            case Operation.Movwf:
                return Write(step.First, Zeros(WAt, 0xFF), Ones(WAt, 0xFF));
            case Operation.Clrf:
                return Write(step.First, 0xFF, 0);
            case Operation.Clrw:
                return WithW(0xFF, 0);
            case Operation.Movlw:
            case Operation.Retlw:
                return WithW(~step.First, step.First);
            case Operation.Andlw:
            case Operation.Iorlw:
            case Operation.Xorlw:
            case Operation.Addlw:
            case Operation.Sublw:
            {
                KnownBits made = Combine(step.Operation, ~step.First & 0xFF, step.First);
                return WithW(made.Zero, made.One);
            }

            case Operation.Retfie:
                return With(InterruptAt, 1, 0, 1);
            case Operation.Nop:
            case Operation.Btfsc:
            case Operation.Btfss:
            case >= Operation.Addlw:
                return this;
            case Operation.Movf when step.Second == 1:
                return this;
            default:
            {
                (int zero, int one) = Load(step.First);
                KnownBits made = Combine(step.Operation, zero, one);
                return step.Second == 1 ? Write(step.First, made.Zero, made.One) : WithW(made.Zero, made.One);
            }
        }
    }

    /// <summary>
    /// The state after a call: what the routine leaves alone is as before the call, what it may change is as at its returns.
    /// </summary>
    internal FlowState AfterCall(in FlowState atReturn, in StateChange changed, bool changesW)
    {
        FlowState after = new((bits & ~(ulong)AnyBank) | MergeBanks(atReturn, changed.Status));
        after = after.Take(atReturn, WAt, 0xFF, changesW ? 0xFF : 0);
        after = after.Take(atReturn, IrpAt, 1, (changed.Status & IrpBit) != 0 ? 1 : 0);
        after = after.Take(atReturn, InterruptAt, 1, changed.Interrupts ? 1 : 0);
        after = after.Take(atReturn, LatchAt, LatchBits, changed.Latch);
        return after.Take(atReturn, PointerAt, 0xFF, changed.Pointer ? 0xFF : 0);
    }

    /// <summary>The state with which an interrupt's code starts: as it was, with interrupts off.</summary>
    internal FlowState Interrupted() => With(InterruptAt, 1, 1, 0);

    /// <summary>The same with nothing known of W.</summary>
    internal FlowState WithoutW() => WithW(0xFF, 0xFF);

    /// <summary>Bits of a chip's banks that may be selected, bank 0 the lowest.</summary>
    internal int Banks(int banks) => banks > 2 ? (int)(bits & AnyBank) : (int)((bits | bits >> 2) & 3);

    private static bool? Known(bool mayBeZero, bool mayBeOne) =>
        mayBeZero ? (mayBeOne ? null : false)
        : mayBeOne ? true
        : null;

    private static ulong FullMask(int at, int width) =>
        (ulong)width << at | (ulong)width << (at + BitOperations.PopCount((uint)width));

    private FlowState WithoutPointer() => With(PointerAt, 0xFF, 0xFF, 0xFF);

    private FlowState WithW(int zero, int one) => With(WAt, 0xFF, zero, one);

    // Two masks side by side: the bits that may be 0, then those that may be 1.
    private int Zeros(int at, int width) => (int)(bits >> at) & width;

    private int Ones(int at, int width) => (int)(bits >> (at + BitOperations.PopCount((uint)width))) & width;

    private FlowState With(int at, int width, int zero, int one) =>
        new(
            (bits & ~FullMask(at, width))
                | (ulong)(zero & width) << at
                | (ulong)(one & width) << (at + BitOperations.PopCount((uint)width))
        );

    private FlowState Take(in FlowState other, int at, int width, int changed) =>
        With(
            at,
            width,
            (Zeros(at, width) & ~changed) | (other.Zeros(at, width) & changed),
            (Ones(at, width) & ~changed) | (other.Ones(at, width) & changed)
        );

    private bool? Bit(int at, int width, int bit) => Known((Zeros(at, width) & bit) != 0, (Ones(at, width) & bit) != 0);

    private int? Value(int at, int width, int mask = 0xFF)
    {
        int zero = Zeros(at, width) & mask,
            one = Ones(at, width) & mask;
        return (zero & one) == 0 && (zero | one) == (mask & width) ? one : null;
    }

    private bool May(int at, int width, int value) =>
        ((value & Ones(at, width)) | (~value & Zeros(at, width) & width)) == width;

    private FlowState WithBit(int register, int bit, bool isOne)
    {
        (int zero, int one) = isOne ? (0, bit) : (bit, 0);
        switch (register)
        {
            case DataSpace.Status when (bit & BankBits) != 0:
            {
                int to = bit == Rp0Bit ? 1 : 2;
                int banks = 0;
                for (int bank = 0; bank < 4; bank++)
                    if ((bits >> bank & 1) != 0)
                        banks |= 1 << (isOne ? bank | to : bank & ~to);
                return new FlowState((bits & ~(ulong)AnyBank) | (uint)banks);
            }

            case DataSpace.Status when bit == IrpBit:
                return With(IrpAt, 1, isOne ? 0 : 1, isOne ? 1 : 0);
            case DataSpace.InterruptControl when bit == GlobalInterruptBit:
                return With(InterruptAt, 1, isOne ? 0 : 1, isOne ? 1 : 0);
            case DataSpace.Latch:
                return With(
                    LatchAt,
                    LatchBits,
                    (Zeros(LatchAt, LatchBits) & ~bit) | zero,
                    (Ones(LatchAt, LatchBits) & ~bit) | one
                );
            case DataSpace.Pointer:
                return With(
                    PointerAt,
                    0xFF,
                    (Zeros(PointerAt, 0xFF) & ~bit) | zero,
                    (Ones(PointerAt, 0xFF) & ~bit) | one
                );
            default:
                return this;
        }
    }

    private FlowState Write(int register, int zero, int one)
    {
        switch (register)
        {
            case DataSpace.Status:
            {
                uint banks = 0;
                for (int bank = 0; bank < 4; bank++)
                    if (
                        (((bank & 1) != 0 ? one : zero) & Rp0Bit) != 0
                        && (((bank & 2) != 0 ? one : zero) & Rp1Bit) != 0
                    )
                        banks |= 1u << bank;
                return new FlowState((bits & ~(ulong)AnyBank) | banks).With(IrpAt, 1, zero >> 7, one >> 7);
            }

            case DataSpace.InterruptControl:
                return With(InterruptAt, 1, zero >> 7, one >> 7);
            case DataSpace.Latch:
                return With(LatchAt, LatchBits, zero, one);
            case DataSpace.Pointer:
                return With(PointerAt, 0xFF, zero, one);
            default:
                return this;
        }
    }

    private (int Zero, int One) Load(int register)
    {
        switch (register)
        {
            case DataSpace.Status:
            {
                int zero = 0x1F | (Zeros(IrpAt, 1) << 7),
                    one = 0x1F | (Ones(IrpAt, 1) << 7);
                zero |= ((bits & 0b0101) != 0 ? Rp0Bit : 0) | ((bits & 0b0011) != 0 ? Rp1Bit : 0);
                one |= ((bits & 0b1010) != 0 ? Rp0Bit : 0) | ((bits & 0b1100) != 0 ? Rp1Bit : 0);
                return (zero, one);
            }

            case DataSpace.InterruptControl:
                return (0x7F | (Zeros(InterruptAt, 1) << 7), 0x7F | (Ones(InterruptAt, 1) << 7));
            case DataSpace.Latch:
                return (Zeros(LatchAt, LatchBits) | 0xE0, Ones(LatchAt, LatchBits));
            case DataSpace.Pointer:
                return (Zeros(PointerAt, 0xFF), Ones(PointerAt, 0xFF));
            default:
                return (0xFF, 0xFF);
        }
    }

    private KnownBits Combine(Operation operation, int zero, int one) =>
        KnownBits.Combine(operation, KnownBits.From(zero, one), KnownBits.From(Zeros(WAt, 0xFF), Ones(WAt, 0xFF)));

    // A bank after a call has the bits that the routine leaves alone from before, and the others from its returns.
    private ulong MergeBanks(in FlowState atReturn, int changed)
    {
        int take = (changed >> 5) & 3;
        if (take == 0)
            return bits & AnyBank;
        if (take == 3)
            return atReturn.bits & AnyBank;
        ulong banks = 0;
        for (int before = 0; before < 4; before++)
        for (int after = 0; after < 4; after++)
            if ((bits >> before & 1) != 0 && (atReturn.bits >> after & 1) != 0)
                banks |= 1UL << ((before & ~take) | (after & take));
        return banks;
    }
}
