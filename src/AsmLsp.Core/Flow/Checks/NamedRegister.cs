using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Flow.Checks;

/// <summary>The register that the source names for an instruction, with the full address that the name has.</summary>
/// <param name="Address">The full data address, 0..0x1FF.</param>
/// <param name="Name">The name as written, or null for a number or an expression.</param>
/// <param name="IsChipName">Whether the name is the chip's own for that register, and built in.</param>
/// <param name="IsOwnEquate">Whether the name is the chip's for that register, but given a value by the program.</param>
internal readonly record struct NamedRegister(int Address, string? Name, bool IsChipName, bool IsOwnEquate)
{
    /// <summary>Whether the instruction names a register in its word.</summary>
    public static bool Takes(in DecodedInstruction decoded) =>
        decoded.Instruction.Operands
            is OperandKind.Register
                or OperandKind.RegisterDestination
                or OperandKind.RegisterBit;

    /// <summary>The register that the line of a word names, or null where that is not certain.</summary>
    public static NamedRegister? Of(FlowGraph graph, int address, in DecodedInstruction decoded)
    {
        if (graph.Walk.OperandOf(address) is not { } operand || graph.Walk.Intended(address) is not { } full)
            return null;
        // Shorthand lines hold words whose register is not their operand; a name of another value does not belong to this word.
        if (full is < 0 or > 0x1FF || (full & 0x7F) != decoded.First)
            return null;
        while (operand is ParenthesizedExpression inner)
            operand = inner.Inner;
        if (operand is not NameExpression name)
            return new NamedRegister(full, null, false, false);
        (Symbol? symbol, DeviceSymbol? builtIn) = graph.Walk.Values.Find(name.Name);
        return new NamedRegister(
            full,
            name.Name,
            builtIn is { Kind: DeviceSymbolKind.Register },
            symbol is { Kind: SymbolKind.Constant } && IsNameOfChip(graph, name.Name, full)
        );
    }

    private static bool IsNameOfChip(FlowGraph graph, string name, int full)
    {
        if (graph.Walk.Device?.DataMemory.RegisterAt(full) is not { } register)
            return false;
        if (register.Name.Equals(name, StringComparison.OrdinalIgnoreCase))
            return true;
        foreach (string other in register.OtherNames)
            if (other.Equals(name, StringComparison.OrdinalIgnoreCase))
                return true;
        return false;
    }
}
