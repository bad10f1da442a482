using System.Globalization;
using AsmLsp.Core.Instructions;

namespace AsmLsp.Core.Readouts;

/// <summary>A decoded word as a line of source, all operands as numbers.</summary>
public static class InstructionText
{
    /// <summary>The text, such as <c>movlw 0x05</c>.</summary>
    public static string Of(in DecodedInstruction decoded)
    {
        string name = decoded.Instruction.Name;
        return decoded.Instruction.Operands switch
        {
            OperandKind.RegisterDestination => Text($"{name} 0x{decoded.First:X2},{(decoded.Second == 0 ? "w" : "f")}"),
            OperandKind.RegisterBit => Text($"{name} 0x{decoded.First:X2},{decoded.Second}"),
            OperandKind.None => name,
            OperandKind.Address11 => Text($"{name} 0x{decoded.First:X3}"),
            _ => Text($"{name} 0x{decoded.First:X2}"),
        };
    }

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
