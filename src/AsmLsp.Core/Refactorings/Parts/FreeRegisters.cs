using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Flow;
using AsmLsp.Core.Instructions;

namespace AsmLsp.Core.Refactorings.Parts;

/// <summary>General-purpose registers that no name and no instruction of the program means. What FSR reaches is not known.</summary>
internal static class FreeRegisters
{
    private const int BankSize = 0x80;

    /// <summary>So many free registers, the last ones of the memory first, that can be reached in a bank; null where there are not as many.</summary>
    public static int[]? Find(ProgramAnalysis program, Device device, int bank, int count)
    {
        DataMemory memory = device.DataMemory;
        var used = new HashSet<int>();
        foreach (Symbol symbol in program.Symbols)
            if (symbol is { IsKnown: true, Kind: not (SymbolKind.Label or SymbolKind.Macro or SymbolKind.Define) })
                for (int i = 0; i < Math.Max(1, Math.Min(symbol.Size, BankSize)); i++)
                    Use(symbol.Value + i);
        // The low seven bits of a word do not say the bank: all of them count.
        FlowGraph graph = FlowGraph.Of(program);
        for (int at = 0; at < graph.End; at++)
            if (
                graph.InstructionAt(at) is
                {
                    Instruction.Operands: OperandKind.Register
                        or OperandKind.RegisterDestination
                        or OperandKind.RegisterBit
                } decoded
            )
                for (int i = 0; i < memory.BankCount; i++)
                    Use((i * BankSize) + decoded.First);

        var free = new List<int>();
        for (
            int address = (bank * BankSize) + BankSize - 1;
            address >= bank * BankSize && free.Count < count;
            address--
        )
            if (memory.IsGeneralPurpose(address) && !used.Contains(memory.Canonical(address)))
                free.Add(address);
        return free.Count == count ? [.. free] : null;

        void Use(int address)
        {
            if (memory.IsGeneralPurpose(address))
                used.Add(memory.Canonical(address));
        }
    }
}
