using AsmLsp.Core.Instructions;

namespace AsmLsp.Core.Flow.Traps;

/// <summary>What an instruction does with its register.</summary>
/// <param name="Register">The lowest address of the byte that is reached, or -1 where the instruction has no register or the bank is not known.</param>
/// <param name="IsCertain">Whether the selected bank proves the address; otherwise it is the address of the name in the source.</param>
/// <param name="Reads">Whether the register is read.</param>
/// <param name="Writes">Whether the register is written.</param>
/// <param name="Mask">The bits concerned: one for a bit instruction, otherwise all.</param>
internal readonly record struct RegisterAccess(int Register, bool IsCertain, bool Reads, bool Writes, int Mask)
{
    /// <summary>Whether the instruction gives the register a value that does not depend on the old one.</summary>
    public bool IsFirstValue => Writes && !Reads;

    /// <summary>What an instruction does with a register, without its address.</summary>
    public static RegisterAccess Of(in DecodedInstruction decoded)
    {
        string name = decoded.Instruction.Name;
        return decoded.Instruction.Operands switch
        {
            OperandKind.Register => new(-1, false, false, true, 0xFF),
            OperandKind.RegisterDestination => new(-1, false, true, decoded.Second == 1 && name != "movf", 0xFF),
            OperandKind.RegisterBit when decoded.Instruction.MaySkip => new(
                -1,
                false,
                true,
                false,
                1 << decoded.Second
            ),
            OperandKind.RegisterBit => new(-1, false, true, true, 1 << decoded.Second),
            OperandKind.TrisPort => new(0x80 | decoded.First, true, false, true, 0xFF),
            _ when name == "option" => new(0x81, true, false, true, 0xFF),
            _ => new(-1, false, false, false, 0),
        };
    }
}
