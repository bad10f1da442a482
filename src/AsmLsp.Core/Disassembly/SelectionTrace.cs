using AsmLsp.Core.Devices;
using AsmLsp.Core.Hex;
using AsmLsp.Core.Instructions;

namespace AsmLsp.Core.Disassembly;

/// <summary>
/// Follows a program from reset and interrupt through all its jumps and calls, and so knows at each instruction which bank
/// and page is selected, as far as that is the same whichever way it is reached. Only names hang on this, never a word. Where a jump
/// is worked out in a way that is not the usual table, nothing is taken as known in the whole program.
/// </summary>
internal sealed class SelectionTrace
{
    private const int ProgramCounterLow = 0x02,
        InterruptControl = 0x0B,
        GlobalEnableBit = 7,
        PageSize = 0x800;
    private const int LongestTable = 255;

    // A program calls seldom deeper than 8; more work than this is no program but chance words.
    private const int MostWork = 4_000_000;

    private readonly Device? device;
    private readonly int size;
    private readonly int pages;
    private readonly DecodedInstruction?[] code;
    private readonly bool[] isPresent;
    private readonly SelectedState?[] before;
    private readonly Stack<int> pending = new();
    private readonly Dictionary<int, HashSet<int>> returnsTo = [];
    private readonly Dictionary<int, SelectedState> atReturn = [];
    private bool isLost;
    private int work;

    public SelectionTrace(WordMemory memory, Device? device)
    {
        this.device = device;
        size = device?.ProgramWords ?? HexAreas.Identification;
        pages = device?.ProgramPages ?? 4;
        (code, isPresent, before) = (new DecodedInstruction?[size], new bool[size], new SelectedState?[size]);
        foreach ((int address, ushort word) in memory)
        {
            if (address >= size)
                break;
            isPresent[address] = true;
            code[address] = InstructionSet.Decode(word);
            HasInterrupt |= code[address] is { } decoded && LetsInterrupt(decoded);
        }

        HasInterrupt &= device is not null && isPresent[device.InterruptVector];
        isLost = device is null;
        if (isLost || size == 0)
            return;
        Flow(device!.ResetVector, SelectedState.AfterReset);
        if (HasInterrupt)
            Flow(device.InterruptVector, SelectedState.Unknown);
        do Drain();
        while (!isLost && Returned());
    }

    /// <summary>Whether the program can be interrupted, and has words where an interrupt goes.</summary>
    public bool HasInterrupt { get; }

    /// <summary>The bank (0..3) that is selected before the instruction at an address runs, or null where that is not sure.</summary>
    public int? BankAt(int address)
    {
        if (device is null || isLost || address >= size || before[address] is not { } state)
            return null;
        int needed = device.DataMemory.BankCount == 2 ? SelectedState.Rp0 : SelectedState.Rp0 | SelectedState.Rp1;
        return (state.Known & needed) == needed ? state.Bits & needed : null;
    }

    /// <summary>The whole address to which the CALL or GOTO at an address goes, or null where its page is not sure or no word is there.</summary>
    public int? TargetAt(int address)
    {
        if (address >= size || code[address] is not { Instruction.Operands: OperandKind.Address11 } jump)
            return null;
        int? target = null;
        SelectedState state = isLost ? SelectedState.Unknown : before[address] ?? SelectedState.Unknown;
        foreach ((int candidate, _) in Targets(state, jump.First))
        {
            if (target is not null)
                return null;
            target = candidate;
        }

        return target;
    }

    private static bool LetsInterrupt(in DecodedInstruction decoded) =>
        decoded.Instruction.Name == "retfie"
        || (
            decoded.Instruction.Name == "bsf"
                ? (decoded.First, decoded.Second) == (InterruptControl, GlobalEnableBit)
                : Writes(decoded, InterruptControl) && decoded.Instruction.Name is not ("bcf" or "clrf")
        );

    private static bool Writes(in DecodedInstruction decoded, int register) =>
        decoded.First == register
        && decoded.Instruction.Operands switch
        {
            OperandKind.Register => true,
            OperandKind.RegisterDestination => decoded.Second == 1,
            OperandKind.RegisterBit => !decoded.Instruction.MaySkip,
            _ => false,
        };

    // Every page that the known bits allow and that has a word there; the state in that page says so.
    private IEnumerable<(int Address, SelectedState State)> Targets(SelectedState state, int low)
    {
        for (int page = 0; page < pages; page++)
        {
            int address = page * PageSize + low;
            if (address >= size || !isPresent[address])
                continue;
            SelectedState there = state.WithPage(page);
            int relevant =
                state.Known
                & (
                    pages == 1 ? 0
                    : pages == 2 ? SelectedState.Page0
                    : SelectedState.Page0 | SelectedState.Page1
                );
            if (((state.Bits ^ there.Bits) & relevant) != 0)
                continue;
            yield return (address, pages == 1 ? state : there);
        }
    }

    private void Flow(int address, SelectedState state)
    {
        address %= size;
        SelectedState joined = before[address] is { } already ? already.Join(state) : state;
        if (before[address] == joined)
            return;
        before[address] = joined;
        pending.Push(address);
    }

    private void Drain()
    {
        while (!isLost && pending.TryPop(out int address))
        {
            if (++work > MostWork)
                isLost = true;
            SelectedState state = before[address]!.Value;
            if (code[address] is { Instruction.IsCall: true } call)
            {
                int found = 0;
                foreach ((int target, SelectedState there) in Targets(state, call.First))
                {
                    found++;
                    Flow(target, there);
                    if (!returnsTo.TryGetValue(target, out HashSet<int>? sites))
                        returnsTo.Add(target, sites = []);
                    sites.Add(address + 1);
                    if (atReturn.TryGetValue(target, out SelectedState known))
                        Flow(address + 1, known);
                }

                // A call into words that the file lacks does what nobody can see here.
                isLost |= found == 0;
                continue;
            }

            foreach ((int next, SelectedState after) in Next(address, state))
                Flow(next, after);
        }
    }

    /// <summary>Where an instruction that is no call continues, within its routine.</summary>
    private List<(int Address, SelectedState State)> Next(int address, SelectedState state)
    {
        // An erased word (0x3FFF) runs as ADDLW; what another word that is no instruction does is not known.
        if (code[address] is not { } decoded)
            return [(address + 1, isPresent[address] ? SelectedState.Unknown : state with { W = -1 })];
        if (decoded.Instruction.IsReturn)
            return [];
        if (decoded.Instruction.IsJump)
        {
            List<(int, SelectedState)> targets = [.. Targets(state, decoded.First)];
            isLost |= targets.Count == 0;
            return targets;
        }

        SelectedState after = state.After(decoded);
        if (Writes(decoded, ProgramCounterLow))
            return Table(address, decoded, after);
        return decoded.Instruction.MaySkip ? [(address + 1, after), (address + 2, after)] : [(address + 1, after)];
    }

    // ADDWF PCL,F goes into the run of jumps or returns after it.
    private List<(int Address, SelectedState State)> Table(
        int address,
        in DecodedInstruction decoded,
        SelectedState after
    )
    {
        var entries = new List<(int, SelectedState)>();
        if (decoded.Instruction.Name == "addwf")
        {
            for (int entry = address + 1; entry < size && entries.Count < LongestTable; entry++)
            {
                if (code[entry] is not { } word || !(word.Instruction.IsJump || word.Instruction.IsReturn))
                    break;
                entries.Add((entry, after with { W = -1 }));
            }
        }

        isLost |= entries.Count == 0;
        return entries;
    }

    /// <summary>Carries the state at the returns of each routine to after its calls; true where that is news.</summary>
    private bool Returned()
    {
        bool isNew = false;
        foreach (int routine in returnsTo.Keys.ToArray())
        {
            if (StateAtReturn(routine) is not { } state)
                continue;
            if (atReturn.TryGetValue(routine, out SelectedState known))
                state = state.Join(known);
            if (atReturn.ContainsKey(routine) && state == known)
                continue;
            atReturn[routine] = state;
            isNew = true;
            foreach (int site in returnsTo[routine])
                Flow(site, state);
        }

        return isNew && !isLost;
    }

    private SelectedState? StateAtReturn(int routine)
    {
        SelectedState? joined = null;
        var seen = new HashSet<int> { routine };
        var open = new Stack<int>([routine]);
        while (open.TryPop(out int address))
        {
            if (++work > MostWork)
                isLost = true;
            if (isLost || before[address] is not { } state)
                continue;
            if (code[address] is { Instruction.IsReturn: true } leave)
            {
                SelectedState after = state.After(leave);
                joined = joined?.Join(after) ?? after;
                continue;
            }

            if (code[address] is { Instruction.IsCall: true })
            {
                if (seen.Add((address + 1) % size))
                    open.Push((address + 1) % size);
                continue;
            }

            foreach ((int next, _) in Next(address, state))
                if (seen.Add(next % size))
                    open.Push(next % size);
        }

        return joined;
    }
}
