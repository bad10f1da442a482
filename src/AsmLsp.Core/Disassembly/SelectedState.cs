using AsmLsp.Core.Instructions;

namespace AsmLsp.Core.Disassembly;

/// <summary>
/// What is known of the bits that choose bank and page before an instruction runs, and of W, by which they are often set.
/// </summary>
/// <param name="Known">Which of the bits below are known.</param>
/// <param name="Bits">Their values; 0 where not known.</param>
/// <param name="W">W, or -1 where not known.</param>
internal readonly record struct SelectedState(int Known, int Bits, int W)
{
    public const int Rp0 = 1,
        Rp1 = 2,
        Page0 = 4,
        Page1 = 8;
    private const int BankBits = Rp0 | Rp1,
        PageBits = Page0 | Page1,
        Status = 0x03,
        PageRegister = 0x0A;

    /// <summary>Nothing is known: an interrupt, or code that nothing is seen to reach.</summary>
    public static SelectedState Unknown { get; } = new(0, 0, -1);

    /// <summary>After power-on bank 0 and page 0 are selected (from memory; the chip files hold the same reset values).</summary>
    public static SelectedState AfterReset { get; } = new(BankBits | PageBits, 0, -1);

    /// <summary>What holds whichever of two ways was taken.</summary>
    public SelectedState Join(SelectedState other)
    {
        int known = Known & other.Known & ~(Bits ^ other.Bits);
        return new SelectedState(known, Bits & known, W == other.W ? W : -1);
    }

    public SelectedState WithPage(int page) =>
        With(PageBits, ((page & 1) != 0 ? Page0 : 0) | ((page & 2) != 0 ? Page1 : 0));

    /// <summary>The state after an instruction, apart from where it goes. A write through INDF is not followed.</summary>
    public SelectedState After(in DecodedInstruction decoded)
    {
        string name = decoded.Instruction.Name;
        switch (decoded.Instruction.Operands)
        {
            case OperandKind.None:
                return name == "clrw" ? this with { W = 0 } : this;
            case OperandKind.Literal8:
                return this with { W = name is "movlw" or "retlw" ? decoded.First : -1 };
            case OperandKind.Register:
                return Written(decoded.First, name == "clrf" ? 0 : W);
            case OperandKind.RegisterDestination:
                if (decoded.Second == 0)
                    return this with { W = -1 };
                return name == "movf" ? this : Written(decoded.First, -1);
            case OperandKind.RegisterBit when name is "bsf" or "bcf":
                int bit = (decoded.First, decoded.Second) switch
                {
                    (Status, 5) => Rp0,
                    (Status, 6) => Rp1,
                    (PageRegister, 3) => Page0,
                    (PageRegister, 4) => Page1,
                    _ => 0,
                };
                return With(bit, name == "bsf" ? bit : 0);
            default:
                return this;
        }
    }

    // STATUS and PCLATH are in every bank, so the bank does not matter here.
    private SelectedState Written(int register, int value) =>
        register switch
        {
            Status when value < 0 => this with { Known = Known & ~BankBits, Bits = Bits & ~BankBits },
            Status => With(BankBits, ((value & 0x20) != 0 ? Rp0 : 0) | ((value & 0x40) != 0 ? Rp1 : 0)),
            PageRegister when value < 0 => this with { Known = Known & ~PageBits, Bits = Bits & ~PageBits },
            PageRegister => With(PageBits, ((value & 0x08) != 0 ? Page0 : 0) | ((value & 0x10) != 0 ? Page1 : 0)),
            _ => this,
        };

    private SelectedState With(int mask, int bits) => this with { Known = Known | mask, Bits = (Bits & ~mask) | bits };
}
