using AsmLsp.Core.Devices;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Flow.Checks;

/// <summary>
/// Registers that are reached in the wrong bank in programs that work: many authors write PORTB for its direction register while bank 1 is
/// selected, and some write a register that has the value after reset anyway.
/// </summary>
internal static class BankIdiom
{
    private const int Rp0 = 5,
        LooksBack = 12;

    /// <summary>The direction register that is reached instead of its port, or the port instead of its direction register; null for others.</summary>
    public static string? TwinReached(FlowGraph graph, int at, in NamedRegister named, List<string> reached)
    {
        if (reached.Count != 1 || graph.Walk.Device?.DataMemory.RegisterAt(named.Address) is not { } register)
            return null;
        string port = Port(register.Name),
            other = Port(reached[0]);
        return port.Length > 0 && port == other && register.Name != reached[0] ? reached[0] : null;
    }

    /// <summary>Whether the author plainly means the register that is reached, under the other's name.</summary>
    public static bool IsOnPurpose(FlowGraph graph, int at, in NamedRegister named, string twin)
    {
        // A test asks for a level, and means the port.
        if (graph.InstructionAt(at) is not { } decoded || decoded.Instruction.MaySkip)
            return false;
        if (CommentAt(graph, at).Contains(twin, StringComparison.OrdinalIgnoreCase))
            return true;
        return IsSelectedAbove(graph, at) && (IsPort(twin) ? IsWrittenElsewhere(graph, at, named.Address) : true);
    }

    /// <summary>Whether a register is given the value that it has after reset (data sheet, register tables).</summary>
    public static bool KeepsResetValue(FlowGraph graph, int at, in NamedRegister named)
    {
        if (
            graph.Walk.Device?.DataMemory.RegisterAt(named.Address) is not { } register
            || register.PowerOnKnownMask != register.PresentMask
            || graph.InstructionAt(at) is not { } decoded
        )
            return false;
        int? value = decoded.Instruction.Name switch
        {
            "movwf" => graph.StateAt(at).W,
            "clrf" => 0,
            _ => null,
        };
        return value is { } written && (written & register.PresentMask) == register.PowerOnValue;
    }

    private static bool IsPort(string name) => !name.StartsWith("TRIS", StringComparison.Ordinal);

    // 'B' for PORTB and TRISB, 'IO' for GPIO and TRISIO; nothing for other registers.
    private static string Port(string name) =>
        name is "GPIO" or "TRISIO" ? "IO"
        : name is ['P', 'O', 'R', 'T', _] or ['T', 'R', 'I', 'S', _] ? name[4..]
        : "";

    private static string CommentAt(FlowGraph graph, int at)
    {
        Assembly.WordOrigin origin = graph.OriginOf(at);
        LineSyntax syntax = graph.Program.SyntaxOf(origin.File, origin.Line);
        return syntax.Comment ?? "";
    }

    // The bank is chosen a few instructions above, for these lines.
    private static bool IsSelectedAbove(FlowGraph graph, int at)
    {
        for (int i = at - 1; i >= 0 && i >= at - LooksBack; i--)
        {
            if (graph.InstructionAt(i) is not { } before || before.Instruction.IsCall || graph.Walk.EndsRun(i))
                return false;
            if (before.First != FlowState.StatusRegister)
                continue;
            if (
                before.Instruction.Operands == OperandKind.RegisterBit
                && !before.Instruction.MaySkip
                && before.Second == Rp0
            )
                return true;
            if (before.Instruction.Name is "movwf" or "clrf")
                return true;
        }

        return false;
    }

    // The direction register is set up where its bank is selected: here the port was to be written.
    private static bool IsWrittenElsewhere(FlowGraph graph, int at, int address)
    {
        DataMemory memory = graph.Walk.Device!.DataMemory;
        for (int i = 0; i < graph.End; i++)
        {
            if (i == at || graph.ReachOf(i) != Reach.Certain || graph.InstructionAt(i) is not { } other)
                continue;
            if (other.Instruction.Name == "tris" && (0x80 | other.First) == memory.Canonical(address))
                return true;
            if (other.First != (address & 0x7F) || other.Instruction.Name is not ("movwf" or "clrf" or "bcf"))
                continue;
            if (
                graph.StateAt(i).Bank(memory.BankCount) is { } bank
                && memory.Canonical((bank << 7) | other.First) == memory.Canonical(address)
            )
                return true;
        }

        return false;
    }
}
