using AsmLsp.Core.Instructions;

namespace AsmLsp.Core.Flow;

/// <summary>
/// What is known, before an instruction, of the bits that choose banks and pages, whatever way led there: for each bit
/// whether it may be 0 and whether it may be 1. Bits that may be neither belong to an instruction that nothing reaches.
/// </summary>
/// <remarks>W is followed as far as it carries constants into STATUS and PCLATH.</remarks>
public readonly record struct FlowState
{
    internal const int StatusRegister = 3,
        LatchRegister = 0x0A,
        BankBits = 0x60,
        LatchBits = 0x1F;

    private readonly byte bankZero,
        bankOne,
        latchZero,
        latchOne,
        wZero,
        wOne;

    private FlowState(int bankZero, int bankOne, int latchZero, int latchOne, int wZero, int wOne) =>
        (this.bankZero, this.bankOne, this.latchZero, this.latchOne, this.wZero, this.wOne) = (
            (byte)bankZero,
            (byte)bankOne,
            (byte)latchZero,
            (byte)latchOne,
            (byte)wZero,
            (byte)wOne
        );

    /// <summary>After a reset: bank 0 and PCLATH 0 (data sheet DS35007B, table 6-3), W unknown.</summary>
    public static FlowState Reset { get; } = new(BankBits, 0, LatchBits, 0, 0xFF, 0xFF);

    /// <summary>Nothing known.</summary>
    public static FlowState Unknown { get; } = new(BankBits, BankBits, LatchBits, LatchBits, 0xFF, 0xFF);

    /// <summary>Whether any way leads here.</summary>
    public bool IsReached => (wZero | wOne) != 0;

    /// <summary>Bit RP0 of STATUS: false, true, or null where it is not known.</summary>
    public bool? Rp0 => Bit(bankZero, bankOne, 0x20);

    /// <summary>Bit RP1 of STATUS: false, true, or null where it is not known.</summary>
    public bool? Rp1 => Bit(bankZero, bankOne, 0x40);

    /// <summary>A bit (0..4) of PCLATH: false, true, or null where it is not known.</summary>
    public bool? Latch(int bit) => Bit(latchZero, latchOne, 1 << bit);

    /// <summary>The bank (0..3) that is selected on a chip with that many banks (2 or 4), or null where it is not known.</summary>
    public int? Bank(int banks)
    {
        if (Rp0 is not { } low)
            return null;
        if (banks <= 2)
            return low ? 1 : 0;
        return Rp1 is { } high ? (low ? 1 : 0) | (high ? 2 : 0) : null;
    }

    /// <summary>Whether a bank (0..3) may be the selected one.</summary>
    public bool MayBeBank(int bank, int banks) =>
        (((bank & 1) != 0 ? bankOne : bankZero) & 0x20) != 0
        && (banks <= 2 || (((bank & 2) != 0 ? bankOne : bankZero) & 0x40) != 0);

    /// <summary>The bits of PCLATH in a mask (of 0x1F), or null where one of them is not known.</summary>
    public int? LatchValue(int mask) =>
        (latchZero & latchOne & mask) == 0 && ((latchZero | latchOne) & mask) == mask ? latchOne & mask : null;

    /// <summary>What is known where two ways meet.</summary>
    internal FlowState Join(in FlowState other) =>
        new(
            bankZero | other.bankZero,
            bankOne | other.bankOne,
            latchZero | other.latchZero,
            latchOne | other.latchOne,
            wZero | other.wZero,
            wOne | other.wOne
        );

    /// <summary>The state behind an instruction that this one goes into.</summary>
    internal FlowState After(in DecodedInstruction decoded)
    {
        string name = decoded.Instruction.Name;
        int register = decoded.First;
        switch (decoded.Instruction.Operands)
        {
            case OperandKind.RegisterBit:
                return decoded.Instruction.MaySkip ? this : WithBit(register, 1 << decoded.Second, name == "bsf");
            case OperandKind.Register when name == "movwf":
                return Write(register, wZero, wOne);
            case OperandKind.Register:
                return Write(register, 0xFF, 0);
            case OperandKind.RegisterDestination when decoded.Second == 1:
                return name == "movf" ? this : Write(register, 0xFF, 0xFF);
            case OperandKind.RegisterDestination:
                return name == "movf" ? Read(register) : WithW(0xFF, 0xFF);
            case OperandKind.Literal8:
                return Literal(name, decoded.First);
            default:
                return name == "clrw" ? WithW(0xFF, 0) : this;
        }
    }

    /// <summary>
    /// The state behind a call: what the routine leaves alone is as before the call, what it may change is as at its returns.
    /// </summary>
    internal FlowState AfterCall(in FlowState atReturn, int changedBank, int changedLatch) =>
        new(
            (bankZero & ~changedBank) | (atReturn.bankZero & changedBank),
            (bankOne & ~changedBank) | (atReturn.bankOne & changedBank),
            (latchZero & ~changedLatch) | (atReturn.latchZero & changedLatch),
            (latchOne & ~changedLatch) | (atReturn.latchOne & changedLatch),
            0xFF,
            0xFF
        );

    /// <summary>The same with nothing known of W.</summary>
    internal FlowState WithoutW() => WithW(0xFF, 0xFF);

    /// <summary>The bank bits and PCLATH bits that an instruction may change.</summary>
    internal static (int Bank, int Latch) ChangedBy(in DecodedInstruction decoded)
    {
        bool writes = decoded.Instruction.Operands switch
        {
            OperandKind.Register => true,
            OperandKind.RegisterDestination => decoded.Second == 1 && decoded.Instruction.Name != "movf",
            OperandKind.RegisterBit => !decoded.Instruction.MaySkip,
            _ => false,
        };
        if (!writes)
            return (0, 0);
        int bits = decoded.Instruction.Operands == OperandKind.RegisterBit ? 1 << decoded.Second : 0xFF;
        return decoded.First switch
        {
            StatusRegister => (bits & BankBits, 0),
            LatchRegister => (0, bits & LatchBits),
            _ => (0, 0),
        };
    }

    private static bool? Bit(int zero, int one, int mask) =>
        (zero & mask) != 0 ? ((one & mask) != 0 ? null : false)
        : (one & mask) != 0 ? true
        : null;

    private FlowState WithBit(int register, int bit, bool isOne) =>
        register switch
        {
            StatusRegister => new(
                isOne ? bankZero & ~bit : bankZero | (bit & BankBits),
                isOne ? bankOne | (bit & BankBits) : bankOne & ~bit,
                latchZero,
                latchOne,
                wZero,
                wOne
            ),
            LatchRegister => new(
                bankZero,
                bankOne,
                isOne ? latchZero & ~bit : latchZero | (bit & LatchBits),
                isOne ? latchOne | (bit & LatchBits) : latchOne & ~bit,
                wZero,
                wOne
            ),
            _ => this,
        };

    private FlowState Write(int register, int zero, int one) =>
        register switch
        {
            StatusRegister => new(zero & BankBits, one & BankBits, latchZero, latchOne, wZero, wOne),
            LatchRegister => new(bankZero, bankOne, zero & LatchBits, one & LatchBits, wZero, wOne),
            _ => this,
        };

    private FlowState Read(int register) =>
        register switch
        {
            StatusRegister => WithW(bankZero | ~BankBits, bankOne | ~BankBits),
            LatchRegister => WithW(latchZero | ~LatchBits, latchOne),
            _ => WithW(0xFF, 0xFF),
        };

    private FlowState Literal(string name, int k) =>
        name switch
        {
            "movlw" or "retlw" => WithW(~k, k),
            "andlw" => WithW(wZero | ~k, wOne & k),
            "iorlw" => WithW(wZero & ~k, wOne | k),
            "xorlw" => WithW((wZero & ~k) | (wOne & k), (wOne & ~k) | (wZero & k)),
            "addlw" when KnownW is { } w => WithW(~(w + k), w + k),
            "sublw" when KnownW is { } w => WithW(~(k - w), k - w),
            _ => WithW(0xFF, 0xFF),
        };

    private int? KnownW => (wZero & wOne) == 0 && (wZero | wOne) == 0xFF ? wOne : null;

    private FlowState WithW(int zero, int one) => new(bankZero, bankOne, latchZero, latchOne, zero & 0xFF, one & 0xFF);
}
