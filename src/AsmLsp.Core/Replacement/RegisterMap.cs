using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Flow;
using AsmLsp.Core.Flow.Checks;
using AsmLsp.Core.Instructions;

namespace AsmLsp.Core.Replacement;

/// <summary>
/// Where each register of the old chip is on the new one: special registers by their names, memory by one shift for all of it, so
/// that blocks and tables stay together.
/// </summary>
internal sealed class RegisterMap
{
    private RegisterMap(Device from, Device to, IReadOnlyCollection<int> used, int shift, bool fits) =>
        (From, To, Used, Shift, Fits) = (from, to, used, shift, fits);

    public Device From { get; }

    public Device To { get; }

    /// <summary>The bytes of memory that the program surely uses.</summary>
    public IReadOnlyCollection<int> Used { get; }

    /// <summary>How many addresses memory moves up.</summary>
    public int Shift { get; }

    /// <summary>Whether all memory that is used has a place.</summary>
    public bool Fits { get; }

    /// <summary>The map for a program.</summary>
    public static RegisterMap Of(ProgramAnalysis program, Device from, Device to)
    {
        FlowGraph graph = FlowGraph.Of(program);
        var used = new SortedSet<int>();
        bool needsEveryBank = false;
        for (int at = 0; at < graph.End; at++)
        {
            if (
                graph.InstructionAt(at) is { } decoded
                && NamedRegister.Takes(decoded)
                && AddressOf(graph, from, at, decoded) is { } address
                && from.DataMemory.IsGeneralPurpose(address)
            )
            {
                used.Add(address);
                // Memory that the old chip shows in every bank is often reached while another bank is selected.
                needsEveryBank |=
                    graph.StateAt(at) is { IsReached: true } state && state.Bank(from.DataMemory.BankCount) is not 0;
            }
        }

        foreach (Symbol symbol in program.Symbols)
        {
            if (symbol is { Kind: SymbolKind.BlockMember, IsKnown: true })
            {
                for (int i = 0; i < Math.Max(1, symbol.Size); i++)
                {
                    if (from.DataMemory.IsGeneralPurpose(symbol.Value + i))
                        used.Add(from.DataMemory.Canonical(symbol.Value + i));
                }
            }
        }

        if (used.Count == 0)
            return new RegisterMap(from, to, used, 0, true);
        bool Holds(int shift) =>
            used.All(a => to.DataMemory.IsGeneralPurpose(a + shift) && to.DataMemory.Canonical(a + shift) == a + shift);
        bool IsShared(int shift) => used.All(a => to.DataMemory.IsSameInEveryBank(a + shift));
        int[] candidates =
        [
            0,
            to.DataMemory.CommonRam is { } common ? common.First - used.Min : 0,
            to.DataMemory.FirstGeneralPurpose - used.Min,
            to.DataMemory.FirstGeneralPurpose - from.DataMemory.FirstGeneralPurpose,
        ];
        if (Holds(0) && (!needsEveryBank || IsShared(0) || from.DataMemory.BankCount == to.DataMemory.BankCount))
            return new RegisterMap(from, to, used, 0, true);
        foreach (int shift in candidates)
        {
            if (Holds(shift) && (!needsEveryBank || IsShared(shift)))
                return new RegisterMap(from, to, used, shift, true);
        }

        foreach (int shift in candidates)
        {
            if (Holds(shift))
                return new RegisterMap(from, to, used, shift, true);
        }

        return new RegisterMap(from, to, used, 0, false);
    }

    /// <summary>The byte that an instruction reaches: by the bank that is surely selected, else by the name that the source writes; null where neither says it.</summary>
    public static int? AddressOf(FlowGraph graph, Device device, int at, in DecodedInstruction decoded)
    {
        DataMemory memory = device.DataMemory;
        if (memory.IsSameInEveryBank(decoded.First))
            return memory.Canonical(decoded.First);
        FlowState state = graph.StateAt(at);
        if (state.IsReached && state.Bank(memory.BankCount) is { } bank)
            return memory.Canonical((bank << 7) | decoded.First);
        return NamedRegister.Of(graph, at, decoded) is { } named ? memory.Canonical(named.Address) : null;
    }

    /// <summary>Where a byte of the old chip is on the new one, or null where it is nowhere.</summary>
    public int? Find(int address)
    {
        if (From.DataMemory.RegisterAt(address) is { } register)
        {
            if (FindRegister(register) is not { } there)
                return null;
            // INDF, STATUS and their like have a copy in every bank: the same offset serves.
            return To.DataMemory.Canonical(there.Address);
        }

        return
            From.DataMemory.IsGeneralPurpose(address)
            && To.DataMemory.IsGeneralPurpose(From.DataMemory.Canonical(address) + Shift)
            ? To.DataMemory.Canonical(From.DataMemory.Canonical(address) + Shift)
            : null;
    }

    /// <summary>The register of the new chip that has a name of a register of the old one, or null.</summary>
    public Register? FindRegister(Register register) =>
        register.OtherNames.Prepend(register.Name).Select(To.FindRegister).FirstOrDefault(static r => r is not null);
}
