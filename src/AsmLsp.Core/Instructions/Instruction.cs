namespace AsmLsp.Core.Instructions;

/// <summary>
/// One instruction of the mid-range core. Source of patterns, cycles and flags: data sheet DS35007B, table 7-2;
/// TRIS and OPTION from data sheet DS30445D.
/// </summary>
public sealed class Instruction
{
    internal Instruction(
        string name,
        OperandKind operands,
        int pattern,
        int dontCare,
        int cycles,
        StatusFlags affects,
        string summary
    )
    {
        Name = name;
        Operands = operands;
        Pattern = pattern;
        DontCareMask = dontCare;
        Cycles = cycles;
        Affects = affects;
        Summary = summary;
    }

    /// <summary>The name in lower case.</summary>
    public string Name { get; }

    /// <summary>The operands that it takes.</summary>
    public OperandKind Operands { get; }

    /// <summary>The 14-bit word with operand bits 0 and the don't-care bits as published programs hold them (CLRW is 0x0103).</summary>
    public int Pattern { get; }

    /// <summary>Bits that the chip does not look at.</summary>
    public int DontCareMask { get; }

    /// <summary>Bits that carry operands.</summary>
    public int OperandMask =>
        Operands switch
        {
            OperandKind.Register => 0x007F,
            OperandKind.RegisterDestination => 0x00FF,
            OperandKind.RegisterBit => 0x03FF,
            OperandKind.Literal8 => 0x00FF,
            OperandKind.Address11 => 0x07FF,
            OperandKind.TrisPort => 0x0007,
            _ => 0,
        };

    /// <summary>Bits that distinguish this instruction from all others.</summary>
    public int FixedMask => 0x3FFF & ~OperandMask & ~DontCareMask;

    /// <summary>Instruction cycles (four clock periods each): 1 or 2; a skip that happens takes one more.</summary>
    public int Cycles { get; }

    /// <summary>Whether it may skip the next instruction, and then takes 2 cycles.</summary>
    public bool MaySkip => Name is "decfsz" or "incfsz" or "btfsc" or "btfss";

    /// <summary>Whether it calls a routine.</summary>
    public bool IsCall => Name == "call";

    /// <summary>Whether it jumps.</summary>
    public bool IsJump => Name == "goto";

    /// <summary>Whether it returns from a routine or an interrupt.</summary>
    public bool IsReturn => Name is "return" or "retlw" or "retfie";

    /// <summary>Whether it is kept for old programs only; data sheets advise against it.</summary>
    public bool IsLegacy => Name is "option" or "tris";

    /// <summary>The status bits that it changes.</summary>
    public StatusFlags Affects { get; }

    /// <summary>What it does, in a sentence.</summary>
    public string Summary { get; }

    /// <summary>The operands by the letters of the data sheets, such as "f,d"; empty where there are none.</summary>
    public string OperandNames =>
        Operands switch
        {
            OperandKind.Register or OperandKind.TrisPort => "f",
            OperandKind.RegisterDestination => "f,d",
            OperandKind.RegisterBit => "f,b",
            OperandKind.Literal8 or OperandKind.Address11 => "k",
            _ => "",
        };

    /// <summary>The word for operands that are already cut to their bits.</summary>
    /// <param name="first">Register 0..0x7F, constant 0..0xFF, address 0..0x7FF or port 5..7; 0 where there is no operand.</param>
    /// <param name="second">Destination 0 (W) or 1 (register), or bit 0..7; 0 where there is no second operand.</param>
    /// <exception cref="ArgumentOutOfRangeException">An operand has more bits than the instruction has room for.</exception>
    public int Encode(int first, int second = 0)
    {
        (int mostFirst, int mostSecond) = Operands switch
        {
            OperandKind.Register => (0x7F, 0),
            OperandKind.RegisterDestination => (0x7F, 1),
            OperandKind.RegisterBit => (0x7F, 7),
            OperandKind.Literal8 => (0xFF, 0),
            OperandKind.Address11 => (0x7FF, 0),
            OperandKind.TrisPort => (7, 0),
            _ => (0, 0),
        };
        ArgumentOutOfRangeException.ThrowIfGreaterThan((uint)first, (uint)mostFirst, nameof(first));
        ArgumentOutOfRangeException.ThrowIfGreaterThan((uint)second, (uint)mostSecond, nameof(second));
        if (Operands == OperandKind.TrisPort)
            ArgumentOutOfRangeException.ThrowIfLessThan(first, 5);
        return Pattern | first | (second << 7);
    }

    /// <inheritdoc/>
    public override string ToString() => Name;
}
