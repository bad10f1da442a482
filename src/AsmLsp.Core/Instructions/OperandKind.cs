namespace AsmLsp.Core.Instructions;

/// <summary>The operands that an instruction takes.</summary>
public enum OperandKind
{
    /// <summary>None.</summary>
    None,

    /// <summary>A register (f).</summary>
    Register,

    /// <summary>A register and where the result goes (f,d).</summary>
    RegisterDestination,

    /// <summary>A register and one of its bits (f,b).</summary>
    RegisterBit,

    /// <summary>A constant of 8 bits (k).</summary>
    Literal8,

    /// <summary>An address of 11 bits in the page that PCLATH selects (k).</summary>
    Address11,

    /// <summary>A port by the address of its register: 5, 6 or 7.</summary>
    TrisPort,
}

/// <summary>The bits of STATUS that an instruction can change.</summary>
[Flags]
public enum StatusFlags
{
    /// <summary>None.</summary>
    None = 0,

    /// <summary>Carry; on subtraction 1 means that no borrow happened.</summary>
    Carry = 1,

    /// <summary>Carry out of bit 3.</summary>
    DigitCarry = 2,

    /// <summary>The result is zero.</summary>
    Zero = 4,

    /// <summary>Power-down, active low.</summary>
    PowerDown = 8,

    /// <summary>Watchdog time-out, active low.</summary>
    TimeOut = 16,
}
