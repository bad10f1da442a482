using AsmLsp.Core.Devices;
using AsmLsp.Core.Execution;
using AsmLsp.Core.Flow.Checks;
using AsmLsp.Core.Instructions;

namespace AsmLsp.Core.Flow.Traps;

/// <summary>What the checks of traps share about one program: the registers that each instruction reaches, and who runs what.</summary>
internal sealed class TrapContext
{
    /// <summary>The registers at the same place in every bank of every chip: data sheet DS35007B, figure 2-2.</summary>
    public const int Indirect = 0x00,
        ProgramCounterLow = 0x02,
        Status = 0x03,
        Pointer = 0x04,
        InterruptControl = 0x0B;

    /// <summary>Bit GIE of INTCON.</summary>
    public const int GlobalEnable = 0x80;

    private const int PointerSteps = 16;

    // The steps of the walk hold numbers; the table gives the instruction of each.
    private static readonly Instruction?[] ByOperation = Table();

    private readonly RegisterAccess[] accesses;
    private readonly bool[] mayWrite = new bool[0x200];
    private readonly List<int> uncertainWrites = [];
    private readonly bool[] loadedConstants = new bool[0x100];
    private readonly bool[] isLive;
    private readonly List<int>?[] byRegister = new List<int>?[0x200];
    private readonly Lazy<InterruptFacts> interrupts;
    private readonly Lazy<PortFacts> ports;

    public TrapContext(FlowGraph graph)
    {
        Graph = graph;
        int end = graph.End;
        accesses = new RegisterAccess[end];
        isLive = new bool[end];
        for (int at = 0; at < end; at++)
            Add(at);
        InMain = Closure(graph.Calls.Main);
        InInterrupt = Closure(graph.Calls.Interrupt);
        interrupts = new Lazy<InterruptFacts>(() => new InterruptFacts(this));
        ports = new Lazy<PortFacts>(() => new PortFacts(this));
    }

    public FlowGraph Graph { get; }

    public Device? Device => Graph.Walk.Device;

    public int End => Graph.End;

    /// <summary>The words that run from the reset on, in called routines too.</summary>
    public bool[] InMain { get; }

    /// <summary>The words that an interrupt runs, in called routines too.</summary>
    public bool[] InInterrupt { get; }

    /// <summary>Whether the program writes through FSR and INDF.</summary>
    public bool WritesIndirectly { get; private set; }

    /// <summary>Whether a jump is computed so that it may go anywhere.</summary>
    public bool HasWildJump => Graph.Walk.HasWildJump;

    public InterruptFacts Interrupts => interrupts.Value;

    public PortFacts Ports => ports.Value;

    /// <summary>Whether the word at an address is certainly run.</summary>
    public bool IsLive(int address) => (uint)address < (uint)isLive.Length && isLive[address];

    /// <summary>The instruction at a reached address, or null.</summary>
    public DecodedInstruction? At(int address)
    {
        if (InstructionAt(address) is not { } instruction)
            return null;
        ref readonly DecodedStep step = ref Graph.Walk.StepAt(address);
        return new DecodedInstruction(instruction, step.First, step.Second, true);
    }

    /// <summary>The instruction's name, or an empty text where there is none.</summary>
    public string NameAt(int address) => InstructionAt(address)?.Name ?? "";

    /// <summary>What an instruction does with its register.</summary>
    public RegisterAccess AccessAt(int address) => accesses[address];

    /// <summary>The addresses of the instructions that reach a register, in order.</summary>
    public IReadOnlyList<int> UsesOf(int register) =>
        (uint)register < (uint)byRegister.Length && byRegister[register] is { } uses ? uses : [];

    /// <summary>Whether any instruction may write a register, in whatever bank or through FSR.</summary>
    public bool MayWrite(int register)
    {
        if (mayWrite[register & 0x1FF])
            return true;
        if (!WritesIndirectly)
            return false;
        // FSR is loaded with the address, or with one a little below, and counted up.
        int low = register & 0xFF;
        for (int constant = Math.Max(0, low - PointerSteps); constant <= low; constant++)
            if (loadedConstants[constant])
                return true;
        return false;
    }

    /// <summary>The instructions that may write a register, but perhaps one at the same place of another bank.</summary>
    public IEnumerable<int> UncertainWritesOf(int register) =>
        uncertainWrites.Where(at => Graph.Walk.StepAt(at).First == (register & 0x7F));

    /// <summary>Whether an instruction may run more than once: a path leads from it back to it, through calls and returns too.</summary>
    public bool IsRepeated(int address)
    {
        FlowWalk walk = Graph.Walk;
        var seen = new bool[End];
        var open = new Stack<int>();
        var next = new List<int>();
        open.Push(address);
        while (open.TryPop(out int at))
        {
            next.Clear();
            if (At(at) is not { } instruction)
                continue;
            if (!instruction.Instruction.IsReturn)
                walk.Successors(at, next);
            else if (Graph.Calls.RoutinesOfReturn.TryGetValue(at, out List<RoutineBody>? ended))
                foreach (RoutineBody routine in ended)
                foreach (int site in routine.CallSites)
                    if (walk.Next(site + 1) is { } after)
                        next.Add(after);
            if (instruction.Instruction.IsCall && walk.TargetOf(at) is >= 0 and var target && walk.Has(target))
                next.Add(target);
            foreach (int to in next)
            {
                if (to == address)
                    return true;
                if (seen[to])
                    continue;
                seen[to] = true;
                open.Push(to);
            }
        }

        return false;
    }

    /// <summary>The address of a register of the chip, or -1.</summary>
    public int AddressOf(string name) => Device?.FindRegister(name)?.Address ?? -1;

    /// <summary>How a message names the register of an instruction.</summary>
    public string RegisterName(int address)
    {
        if (At(address) is { } instruction && NamedRegister.Of(Graph, address, instruction) is { Name: { } name })
            return name;
        int register = accesses[address].Register;
        foreach (Assembly.Symbol symbol in Graph.Program.Symbols)
            if (
                symbol
                    is {
                        Kind: Assembly.SymbolKind.BlockMember or Assembly.SymbolKind.Constant,
                        IsKnown: true,
                        IsReferenced: true
                    }
                && symbol.Value == register
                && Device?.DataMemory.IsGeneralPurpose(register) == true
            )
                return symbol.Name;
        return Device?.DataMemory.RegisterAt(register)?.Name ?? Assembly.Show.Hex(register, 2);
    }

    /// <summary>The number of the line that made a word, as people count.</summary>
    public int LineOf(int address) => Graph.OriginOf(address).Outermost.Line + 1;

    /// <summary>The comment on the line that made a word; empty where there is none.</summary>
    public string CommentAt(int address)
    {
        Assembly.WordOrigin origin = Graph.OriginOf(address);
        return Graph.Program.SyntaxOf(origin.File, origin.Line).Comment ?? "";
    }

    /// <summary>Whether a skip is directly before a word, so that the word may be left out.</summary>
    public bool IsSkipped(int address) => At(address - 1) is { Instruction.MaySkip: true };

    /// <summary>Whether a word is carried out right after the one before it and nothing jumps to it.</summary>
    public bool IsStraight(int address) =>
        !Graph.Walk.HasLabel(address)
        && At(address - 1) is { } before
        && !before.Instruction.IsCall
        && !IsSkipped(address);

    /// <summary>Marks the words of a routine and of all that it calls; all false where there is none.</summary>
    public bool[] Closure(RoutineBody? body)
    {
        var words = new bool[End];
        if (body is null)
            return words;
        var seen = new HashSet<RoutineBody> { body };
        var open = new Stack<RoutineBody>();
        open.Push(body);
        while (open.TryPop(out RoutineBody? at))
        {
            foreach (int word in at.Words)
                words[word] = true;
            foreach ((int _, int target) in at.Calls)
                if (Graph.Calls.Routines.TryGetValue(target, out RoutineBody? called) && seen.Add(called))
                    open.Push(called);
        }

        return words;
    }

    /// <summary>The routines, by address, that hold a word of some kind themselves or in a routine that they call.</summary>
    public HashSet<int> RoutinesWith(Func<int, bool> isWanted)
    {
        var found = new HashSet<int>();
        foreach (RoutineBody routine in Graph.Calls.Routines.Values)
        foreach (int word in routine.Words)
            if (isWanted(word))
            {
                found.Add(routine.Address);
                break;
            }

        bool changed = found.Count > 0;
        while (changed)
        {
            changed = false;
            foreach (RoutineBody routine in Graph.Calls.Routines.Values)
                if (!found.Contains(routine.Address) && routine.Calls.Exists(c => found.Contains(c.Target)))
                    changed |= found.Add(routine.Address);
        }

        return found;
    }

    private static Instruction?[] Table()
    {
        var table = new Instruction?[64];
        foreach (Instruction instruction in InstructionSet.All)
        {
            // TRIS is one with a port only.
            int word = instruction.Encode(instruction.Operands == OperandKind.TrisPort ? 5 : 0);
            table[(int)DecodedStep.Of(word).Operation] = instruction;
        }

        return table;
    }

    private Instruction? InstructionAt(int address) =>
        (uint)address < (uint)isLive.Length && Graph.Walk.Reached[address] != Reach.None
            ? ByOperation[(int)Graph.Walk.StepAt(address).Operation]
            : null;

    private void Add(int at)
    {
        FlowWalk walk = Graph.Walk;
        if (walk.Reached[at] == Reach.None || !walk.Has(at) || At(at) is not { } instruction)
        {
            accesses[at] = new RegisterAccess(-1, false, false, false, 0);
            return;
        }

        FlowState state = Graph.StateAt(at);
        isLive[at] = walk.Reached[at] == Reach.Certain && state.IsReached;
        if (instruction.Instruction.Name is "movlw" or "addlw" or "retlw")
            loadedConstants[instruction.First] = true;
        RegisterAccess access = RegisterAccess.Of(instruction);
        if (access.Register >= 0)
        {
            access = access with { Register = Device?.DataMemory.Canonical(access.Register) ?? access.Register };
            mayWrite[access.Register & 0x1FF] = true;
        }
        else if (NamedRegister.Takes(instruction))
        {
            access = Resolve(at, instruction, state, access);
            WritesIndirectly |= access.Writes && instruction.First == Indirect;
        }

        accesses[at] = access;
        if (access is { Writes: true, IsCertain: false })
            uncertainWrites.Add(at);
        if (access.Register >= 0)
            (byRegister[access.Register & 0x1FF] ??= []).Add(at);
    }

    // One byte in every bank that may be selected, or the byte that the line names.
    private RegisterAccess Resolve(int at, in DecodedInstruction instruction, in FlowState state, RegisterAccess access)
    {
        if (Device?.DataMemory is not { } memory)
            return access with { Register = instruction.First, IsCertain = true };
        int found = -1;
        bool several = false;
        for (int bank = 0; bank < memory.BankCount; bank++)
        {
            if (state.IsReached && !state.MayBeBank(bank, memory.BankCount))
                continue;
            int register = memory.Canonical((bank << 7) | instruction.First);
            several |= found >= 0 && found != register;
            found = register;
            if (access.Writes)
                mayWrite[register & 0x1FF] = true;
        }

        if (!several && found >= 0)
            return access with { Register = found, IsCertain = true };
        return NamedRegister.Of(Graph, at, instruction) is { } named
            ? access with
            {
                Register = memory.Canonical(named.Address),
            }
            : access;
    }
}
