using System.Collections.Frozen;
using System.Collections.Immutable;

namespace AsmLsp.Core.Instructions;

/// <summary>A word read as an instruction.</summary>
/// <param name="Instruction">The instruction.</param>
/// <param name="First">Register, constant, address or port; 0 where it takes none.</param>
/// <param name="Second">Destination or bit; 0 where it takes none.</param>
/// <param name="IsCanonical">Whether the don't-care bits are as this tool and published programs write them.</param>
public readonly record struct DecodedInstruction(Instruction Instruction, int First, int Second, bool IsCanonical);

/// <summary>The 35 instructions of the mid-range core, and the two legacy ones.</summary>
public static class InstructionSet
{
    private const StatusFlags C = StatusFlags.Carry,
        D = StatusFlags.DigitCarry,
        Z = StatusFlags.Zero;

    /// <summary>All instructions in the order of the data sheet's table, the legacy ones last.</summary>
    public static ImmutableArray<Instruction> All { get; } =
    [
        File("addwf", 0x0700, C | D | Z, "Adds W to the register."),
        File("andwf", 0x0500, Z, "Keeps in the result only the bits that are 1 both in W and in the register (and)."),
        new("clrf", OperandKind.Register, 0x0180, 0, 1, Z, "Sets the register to 0."),
        new("clrw", OperandKind.None, 0x0103, 0x007F, 1, Z, "Sets W to 0."),
        File("comf", 0x0900, Z, "Turns every bit of the register over."),
        File("decf", 0x0300, Z, "Takes 1 off the register; carry stays as it is."),
        File(
            "decfsz",
            0x0B00,
            StatusFlags.None,
            "Takes 1 off the register and skips the next instruction when the result is 0."
        ),
        File("incf", 0x0A00, Z, "Adds 1 to the register; carry stays as it is."),
        File(
            "incfsz",
            0x0F00,
            StatusFlags.None,
            "Adds 1 to the register and skips the next instruction when the result is 0."
        ),
        File("iorwf", 0x0400, Z, "Sets in the result the bits that are 1 in W or in the register (or)."),
        File("movf", 0x0800, Z, "Copies the register to W, or onto itself, which only tests it for 0."),
        new("movwf", OperandKind.Register, 0x0080, 0, 1, StatusFlags.None, "Copies W to the register."),
        new("nop", OperandKind.None, 0x0000, 0x0060, 1, StatusFlags.None, "Does nothing for one instruction cycle."),
        File("rlf", 0x0D00, C, "Moves the register's bits one place left: bit 7 goes to carry, carry to bit 0."),
        File("rrf", 0x0C00, C, "Moves the register's bits one place right: bit 0 goes to carry, carry to bit 7."),
        File(
            "subwf",
            0x0200,
            C | D | Z,
            "Takes W off the register (register minus W); carry is 1 when the result is not negative."
        ),
        File("swapf", 0x0E00, StatusFlags.None, "Swaps the two halves of the register; no flag changes."),
        File("xorwf", 0x0600, Z, "Sets in the result the bits in which W and the register differ (exclusive or)."),
        new(
            "bcf",
            OperandKind.RegisterBit,
            0x1000,
            0,
            1,
            StatusFlags.None,
            "Sets one bit of the register to 0; the whole register is read and written back."
        ),
        new(
            "bsf",
            OperandKind.RegisterBit,
            0x1400,
            0,
            1,
            StatusFlags.None,
            "Sets one bit of the register to 1; the whole register is read and written back."
        ),
        new(
            "btfsc",
            OperandKind.RegisterBit,
            0x1800,
            0,
            1,
            StatusFlags.None,
            "Skips the next instruction when the bit is 0."
        ),
        new(
            "btfss",
            OperandKind.RegisterBit,
            0x1C00,
            0,
            1,
            StatusFlags.None,
            "Skips the next instruction when the bit is 1."
        ),
        new("addlw", OperandKind.Literal8, 0x3E00, 0x0100, 1, C | D | Z, "Adds the constant to W."),
        new(
            "andlw",
            OperandKind.Literal8,
            0x3900,
            0,
            1,
            Z,
            "Keeps in W only the bits that are 1 in the constant too (and)."
        ),
        new(
            "call",
            OperandKind.Address11,
            0x2000,
            0,
            2,
            StatusFlags.None,
            "Calls the routine; RETURN comes back to the next instruction. The page comes from PCLATH bits 4 and 3."
        ),
        new(
            "clrwdt",
            OperandKind.None,
            0x0064,
            0,
            1,
            StatusFlags.TimeOut | StatusFlags.PowerDown,
            "Starts the watchdog's time anew."
        ),
        new(
            "goto",
            OperandKind.Address11,
            0x2800,
            0,
            2,
            StatusFlags.None,
            "Jumps to the address. The page comes from PCLATH bits 4 and 3."
        ),
        new("iorlw", OperandKind.Literal8, 0x3800, 0, 1, Z, "Sets in W the bits that are 1 in the constant (or)."),
        new("movlw", OperandKind.Literal8, 0x3000, 0x0300, 1, StatusFlags.None, "Puts the constant into W."),
        new(
            "retfie",
            OperandKind.None,
            0x0009,
            0,
            2,
            StatusFlags.None,
            "Returns from an interrupt and lets interrupts happen again."
        ),
        new(
            "retlw",
            OperandKind.Literal8,
            0x3400,
            0x0300,
            2,
            StatusFlags.None,
            "Returns from a routine with the constant in W: an entry of a table."
        ),
        new("return", OperandKind.None, 0x0008, 0, 2, StatusFlags.None, "Returns from a routine."),
        new(
            "sleep",
            OperandKind.None,
            0x0063,
            0,
            1,
            StatusFlags.TimeOut | StatusFlags.PowerDown,
            "Stops the clock until an interrupt, the watchdog or a reset wakes the chip."
        ),
        new(
            "sublw",
            OperandKind.Literal8,
            0x3C00,
            0x0100,
            1,
            C | D | Z,
            "Takes W off the constant (constant minus W); carry is 1 when the result is not negative."
        ),
        new(
            "xorlw",
            OperandKind.Literal8,
            0x3A00,
            0,
            1,
            Z,
            "Turns over the bits of W that are 1 in the constant (exclusive or)."
        ),
        new(
            "option",
            OperandKind.None,
            0x0062,
            0,
            1,
            StatusFlags.None,
            "Copies W to the OPTION register, whatever bank is selected. For old programs only."
        ),
        new(
            "tris",
            OperandKind.TrisPort,
            0x0060,
            0,
            1,
            StatusFlags.None,
            "Copies W to the direction register of the port, whatever bank is selected. For old programs only."
        ),
    ];

    private static readonly FrozenDictionary<string, Instruction> ByName = All.ToFrozenDictionary(
        i => i.Name,
        StringComparer.OrdinalIgnoreCase
    );

    private static readonly FrozenDictionary<string, Instruction>.AlternateLookup<ReadOnlySpan<char>> BySpan =
        ByName.GetAlternateLookup<ReadOnlySpan<char>>();

    /// <summary>The instruction with a name, without regard to case, or null.</summary>
    public static Instruction? Find(ReadOnlySpan<char> name) =>
        BySpan.TryGetValue(name, out Instruction? found) ? found : null;

    /// <summary>
    /// Reads a word as an instruction; null where it is none (or has more than 14 bits). CLRWDT, SLEEP, OPTION and TRIS lie
    /// among the words that look like NOP, so the instructions with most fixed bits are tried first.
    /// </summary>
    public static DecodedInstruction? Decode(int word)
    {
        if (word is < 0 or > 0x3FFF)
            return null;
        foreach (Instruction instruction in ByTopBits[word >> 8])
        {
            if ((word & instruction.FixedMask) != (instruction.Pattern & instruction.FixedMask))
                continue;
            if (instruction.Operands == OperandKind.TrisPort && (word & 7) < 5)
                continue;
            int first = instruction.Operands switch
            {
                OperandKind.Register or OperandKind.RegisterDestination or OperandKind.RegisterBit => word & 0x7F,
                OperandKind.None => 0,
                _ => word & instruction.OperandMask,
            };
            int second = instruction.Operands is OperandKind.RegisterDestination or OperandKind.RegisterBit
                ? (word & instruction.OperandMask) >> 7
                : 0;
            return new DecodedInstruction(instruction, first, second, instruction.Encode(first, second) == word);
        }

        return null;
    }

    // For each of the 64 values of the top six bits the instructions that are possible, those with most fixed bits first.
    private static ImmutableArray<ImmutableArray<Instruction>> ByTopBits { get; } =
    [
        .. Enumerable
            .Range(0, 64)
            .Select(top =>
                All.Where(i => ((top << 8) & i.FixedMask & 0x3F00) == (i.Pattern & i.FixedMask & 0x3F00))
                    .OrderByDescending(i => int.PopCount(i.FixedMask))
                    .ToImmutableArray()
            ),
    ];

    private static Instruction File(string name, int pattern, StatusFlags affects, string summary) =>
        new(name, OperandKind.RegisterDestination, pattern, 0, 1, affects, summary);
}
