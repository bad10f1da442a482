using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Execution;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Flow;

/// <summary>
/// Follows a program from the reset and the interrupt: which words are reached, and where each instruction continues. A computed
/// jump goes to the table that its words name; one that could go anywhere may go to every place that nothing falls into, and every label.
/// </summary>
internal sealed class FlowWalk
{
    public const int None = -1;
    private const int LongestTable = 256,
        LongestGap = 16,
        PageSize = 0x800;
    private const int GoInterrupt = 0x178B,
        WriteInterrupt = 0x008B,
        ReturnFromInterrupt = 0x0009;

    private readonly ProgramAnalysis program;
    private readonly ushort[] words;
    private readonly DecodedStep[] steps;
    private readonly bool[] present;
    private readonly bool[] labels;
    private readonly int[] targets;
    private readonly Dictionary<int, Table> tables = [];
    private readonly Stack<(int Address, Reach Reach)> open = new();

    private FlowWalk(ProgramAnalysis program)
    {
        this.program = program;
        Device = program.Device;
        int limit = Device?.ProgramWords ?? 0x2000;
        int end = 0;
        foreach ((int address, _, WordOrigin _) in program.Image.Words)
        {
            if (address >= limit)
                break;
            end = address + 1;
        }

        End = end;
        Limit = limit;
        words = new ushort[end];
        steps = new DecodedStep[end];
        present = new bool[end];
        labels = new bool[end];
        targets = new int[end];
        Origins = new WordOrigin[end];
        Reached = new Reach[end];
        Values = new FinalValues(program);
    }

    public Device? Device { get; }

    public FinalValues Values { get; }

    /// <summary>The address after the last word.</summary>
    public int End { get; }

    /// <summary>Words of the chip's program memory.</summary>
    public int Limit { get; }

    public WordOrigin[] Origins { get; }

    public Reach[] Reached { get; }

    /// <summary>The interrupt vector, or -1 where the program uses no interrupt.</summary>
    public int InterruptVector { get; private set; } = None;

    /// <summary>Whether a jump is computed in a way that does not say where it goes.</summary>
    public bool HasWildJump => WildJumps.Count > 0;

    /// <summary>The addresses of the jumps that are computed in a way that does not say where they go.</summary>
    public SortedSet<int> WildJumps { get; } = [];

    /// <summary>The computed jumps whose table is known, by the address of the jump.</summary>
    public IReadOnlyDictionary<int, Table> Tables => tables;

    public static FlowWalk Of(ProgramAnalysis program)
    {
        var walk = new FlowWalk(program);
        walk.Run();
        return walk;
    }

    public bool Has(int address) => (uint)address < (uint)present.Length && present[address];

    public bool HasLabel(int address) => (uint)address < (uint)labels.Length && labels[address];

    public int Word(int address) => words[address];

    public DecodedInstruction? Decode(int address) => InstructionSet.Decode(words[address]);

    /// <summary>The word at an address, decoded once; no operation where it is none.</summary>
    public ref readonly DecodedStep StepAt(int address) => ref steps[address];

    /// <summary>The address that a call or jump goes to, or -1 where it is not known; valid where the word is reached.</summary>
    public int TargetOf(int address) => targets[address];

    /// <summary>
    /// The addresses at which a reached instruction may continue (a call: after it), at most 256; those of a table that may
    /// or may not belong to it are among them.
    /// </summary>
    public void Successors(int address, List<int> into)
    {
        into.Clear();
        DecodedStep step = steps[address];
        switch (step.Operation)
        {
            case Operation.None:
            case Operation.Return:
            case Operation.Retlw:
            case Operation.Retfie:
                return;
            case Operation.Goto:
                if (targets[address] != None)
                    Add(targets[address], into);
                else
                    AddCandidates(step.First, into);
                return;
        }

        if (WritesProgramCounter(step))
        {
            if (tables.TryGetValue(address, out Table? table))
                for (int i = table.First; i < table.End; i++)
                    Add(i, into);
            return;
        }

        if (Next(address + 1) is { } next)
            into.Add(next);
        if (step.MaySkip && Next(address + 2) is { } over)
            into.Add(over);
    }

    /// <summary>
    /// Where the chip continues at an address: there, or after a small gap, whose blank words (ADDLW 0xFF) do no harm to a program that
    /// is written so; null where nothing follows, or where the gap would lead into the interrupt's code.
    /// </summary>
    public int? Next(int address)
    {
        for (int at = address; at <= address + LongestGap && at < End; at++)
            if (present[at])
                return at > address && at == InterruptVector ? null : at;
        return null;
    }

    /// <summary>Whether an instruction writes PCL, and so jumps to a computed place.</summary>
    public static bool WritesProgramCounter(in DecodedStep step) =>
        step.First == DataSpace.ProgramCounterLow
        && step.TakesRegister
        && step.Operation != Operation.Movf
        && step.WrittenBits != 0;

    /// <summary>Whether nothing follows after an instruction of its own accord.</summary>
    public bool EndsRun(int address) =>
        steps[address].Operation
            is Operation.None
                or Operation.Goto
                or Operation.Return
                or Operation.Retlw
                or Operation.Retfie
        || WritesProgramCounter(steps[address]);

    /// <summary>Every place that a computed jump of unknown aim may go to.</summary>
    public IEnumerable<int> WildTargets()
    {
        for (int i = 0; i < End; i++)
            if (present[i] && (labels[i] || i == 0 || !present[i - 1] || EndsRun(i - 1)))
                yield return i;
    }

    private void Run()
    {
        bool speaksOfInterrupts = false;
        foreach ((int address, ushort word, WordOrigin origin) in program.Image.Words)
        {
            if (address >= End)
                break;
            (words[address], present[address], Origins[address], targets[address]) = (word, true, origin, None);
            steps[address] = DecodedStep.Of(word);
            speaksOfInterrupts |= word is GoInterrupt or WriteInterrupt or ReturnFromInterrupt;
        }

        foreach (Symbol symbol in program.Symbols)
            if (symbol is { Kind: SymbolKind.Label, IsKnown: true } && (uint)symbol.Value < (uint)End)
                labels[symbol.Value] = true;

        int reset = Device?.ResetVector ?? 0,
            vector = Device?.InterruptVector ?? 4;
        if (speaksOfInterrupts && Has(vector))
            InterruptVector = vector;
        Go(reset, Reach.Certain);
        if (InterruptVector != None)
            Go(vector, Reach.Certain);

        Follow();
        if (!HasWildJump)
            return;
        foreach (int target in WildTargets())
            Go(target, Reach.Possible);
        Follow();
    }

    private void Follow()
    {
        var next = new List<int>();
        while (open.TryPop(out (int Address, Reach Reach) at))
        {
            DecodedStep step = steps[at.Address];
            Reach reach = at.Reach;
            if (step.Operation is Operation.Call or Operation.Goto)
            {
                targets[at.Address] = Target(at.Address, step.First);
                if (step.Operation == Operation.Call)
                {
                    if (targets[at.Address] != None)
                        Go(targets[at.Address], reach);
                    else
                        foreach (int candidate in Candidates(step.First))
                            Go(candidate, Reach.Possible);
                    if (Next(at.Address + 1) is { } after)
                        Go(after, reach);
                    continue;
                }

                if (targets[at.Address] == None)
                    reach = Reach.Possible;
            }
            else if (WritesProgramCounter(step))
            {
                Computed(at.Address, reach);
                continue;
            }

            Successors(at.Address, next);
            foreach (int to in next)
                Go(to, reach);
        }
    }

    private void Go(int address, Reach reach)
    {
        if (!Has(address) || Reached[address] >= reach)
            return;
        Reached[address] = reach;
        open.Push((address, reach));
    }

    private void Computed(int address, Reach reach)
    {
        if (!tables.TryGetValue(address, out Table? table))
        {
            if (ComputedJump.Of(this, address) is not { } jump)
            {
                WildJumps.Add(address);
                return;
            }

            tables.Add(address, table = TableAt(jump));
        }

        for (int i = table.First; i < table.End; i++)
            Go(i, i < table.CertainEnd ? reach : Reach.Possible);
    }

    private Table TableAt(in ComputedJump jump)
    {
        int first = jump.First,
            at = first,
            most = Math.Min(LongestTable, jump.Entries);
        bool isPlain = true;
        int certain = first;
        while (at - first < most && Has(at))
        {
            bool isEntry = steps[at].Operation is Operation.Goto or Operation.Retlw;
            if (at > first && labels[at])
            {
                // What follows under a name of its own may be something else, unless it looks like more of the table.
                if (!isEntry && EndsRun(at - 1))
                    break;
                isPlain = false;
            }

            isPlain &= isEntry;
            at++;
            if (isPlain)
                certain = at;
        }

        // A jump to one place is no table: it goes there for certain.
        return new Table(first, jump.Entries == 1 ? at : certain, at, jump.IsAdded);
    }

    // The full address is in the source; the word keeps only 11 bits of it.
    private int Target(int address, int low)
    {
        if (Limit <= PageSize)
            return low & (Limit - 1);
        if (Intended(address) is { } full && (full & (PageSize - 1)) == low)
            return full & (Limit - 1);
        int only = None;
        for (int page = 0; page < Limit; page += PageSize)
        {
            if (!Has(page | low))
                continue;
            if (only != None)
                return None;
            only = page | low;
        }

        return only;
    }

    /// <summary>The value of the first operand of the line that made a word, or null.</summary>
    public int? Intended(int address)
    {
        WordOrigin origin = Origins[address];
        LineSyntax syntax = program.SyntaxOf(origin.File, origin.Line);
        if (syntax.OperationKind != OperationKind.Instruction || syntax.Operands.Length == 0)
            return null;
        return Values.Of(Values.FirstOf(syntax.Operands[0].Value), origin.File, origin.Line, ParametersOf(origin));
    }

    /// <summary>The expression of the first operand of the line that made a word, or null where it is no instruction's.</summary>
    public Expression? OperandOf(int address)
    {
        WordOrigin origin = Origins[address];
        LineSyntax syntax = program.SyntaxOf(origin.File, origin.Line);
        return syntax.OperationKind == OperationKind.Instruction && syntax.Operands.Length > 0
            ? Values.FirstOf(syntax.Operands[0].Value)
            : null;
    }

    // Null outside macros: there '$' is the line's own address.
    private IReadOnlyList<string>? ParametersOf(in WordOrigin origin)
    {
        if (origin.Via is not { } via)
            return null;
        return program.FindSymbol(via.Name) is { Kind: SymbolKind.Macro } macro ? macro.Parameters : [];
    }

    /// <summary>The words of every page that 11 bits of an address can mean.</summary>
    public List<int> Candidates(int low)
    {
        var to = new List<int>(4);
        AddCandidates(low, to);
        return to;
    }

    private void AddCandidates(int low, List<int> into)
    {
        for (int page = 0; page < Limit; page += PageSize)
            Add(page | low, into);
    }

    private void Add(int address, List<int> into)
    {
        if (Has(address))
            into.Add(address);
    }

    /// <summary>The words that a computed jump may go to: certainly up to one address, possibly up to another.</summary>
    /// <param name="First">The word of index 0.</param>
    /// <param name="CertainEnd">The address after the last word that surely belongs to it.</param>
    /// <param name="End">The address after the last word that may belong to it.</param>
    /// <param name="IsAdded">Whether W is added to the program counter; else W holds the address.</param>
    internal sealed record Table(int First, int CertainEnd, int End, bool IsAdded);
}
