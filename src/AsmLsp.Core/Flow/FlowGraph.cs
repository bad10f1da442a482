using System.Collections.Immutable;
using System.Runtime.CompilerServices;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Execution;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Flow;

/// <summary>How sure it is that an instruction is ever carried out.</summary>
public enum Reach
{
    /// <summary>No way leads there.</summary>
    None,

    /// <summary>A computed jump may lead there.</summary>
    Possible,

    /// <summary>A way leads there from the reset or the interrupt.</summary>
    Certain,
}

/// <summary>
/// The paths of a program through its words, from the reset and the interrupt on: what is reached, what is known of banks
/// and pages at each instruction, its routines, and what could not be known. Made once a program.
/// </summary>
public sealed class FlowGraph
{
    private static readonly ConditionalWeakTable<ProgramAnalysis, FlowGraph> Known = [];

    private readonly FlowWalk walk;
    private readonly FlowState[] states;
    private readonly Lazy<ImmutableArray<FlowUnknown>> unknowns;
    private readonly Lazy<BankPaths> paths;

    // Of() keeps one a program; benchmarks make new ones.
    internal FlowGraph(ProgramAnalysis program)
    {
        Program = program;
        walk = FlowWalk.Of(program);
        Calls = new CallGraph(walk);
        states = StateAnalysis.Run(walk, Calls);
        unknowns = new Lazy<ImmutableArray<FlowUnknown>>(FindUnknowns);
        paths = new Lazy<BankPaths>(() => new BankPaths(this));
        Times = new PathTimes(this);
    }

    /// <summary>The program.</summary>
    public ProgramAnalysis Program { get; }

    /// <summary>The address after the last word of the program memory that is looked at.</summary>
    public int End => walk.End;

    /// <summary>Whether an interrupt can happen: there is code at its vector, and the program speaks of interrupts.</summary>
    public bool HasInterrupt => walk.InterruptVector >= 0;

    /// <summary>The addresses of the routines that are called, in order.</summary>
    public ImmutableArray<int> RoutineAddresses => [.. Calls.Routines.Keys.Order()];

    /// <summary>What could not be known, in order of the addresses: the analysis is as if it could be anything.</summary>
    public ImmutableArray<FlowUnknown> Unknowns => unknowns.Value;

    /// <summary>How long routines, loops and selections take.</summary>
    public PathTimes Times { get; }

    internal FlowWalk Walk => walk;

    internal CallGraph Calls { get; }

    /// <summary>The graph of a program; kept as long as the program is.</summary>
    public static FlowGraph Of(ProgramAnalysis program)
    {
        ArgumentNullException.ThrowIfNull(program);
        return Known.GetValue(program, static p => new FlowGraph(p));
    }

    /// <summary>Whether the word at an address is ever carried out.</summary>
    public Reach ReachOf(int address) => (uint)address < (uint)walk.End ? walk.Reached[address] : Reach.None;

    /// <summary>What is known before the instruction at an address.</summary>
    public FlowState StateAt(int address) => (uint)address < (uint)states.Length ? states[address] : default;

    /// <summary>The instruction at an address, or null where there is no word or no instruction.</summary>
    public DecodedInstruction? InstructionAt(int address) => walk.Has(address) ? walk.Decode(address) : null;

    /// <summary>
    /// For each bank that may be selected at an address, the nearest instruction that selects it: one entry where the bank is certain,
    /// several where it depends on the path.
    /// </summary>
    public ImmutableArray<BankPath> BankPathsTo(int address) =>
        Program.Device is { } device && StateAt(address).IsReached
            ? [.. paths.Value.At(address, device.DataMemory.BankCount)]
            : [];

    /// <summary>What is known of the routine at an address, or null where nothing starts there.</summary>
    public RoutineFacts? Routine(int address) => RoutineFacts.Of(this, address);

    /// <summary>The line that made a word, and the call of a macro that it went through.</summary>
    internal WordOrigin OriginOf(int address) => walk.Origins[address];

    /// <summary>The place of an instruction's operation and operands in its file.</summary>
    internal SourcePlace PlaceOf(int address)
    {
        WordOrigin origin = walk.Origins[address];
        Syntax.LineSyntax syntax = Program.SyntaxOf(origin.File, origin.Line);
        TextSpan code = syntax.CodeSpan;
        int start = syntax.OperationToken >= 0 ? syntax.Tokens[syntax.OperationToken].Start : code.Start;
        return new SourcePlace(origin.File, origin.Line, TextSpan.FromBounds(start, Math.Max(start, code.End)));
    }

    private ImmutableArray<FlowUnknown> FindUnknowns()
    {
        var found = ImmutableArray.CreateBuilder<FlowUnknown>();
        if (Calls.IsTangled)
            found.Add(new FlowUnknown(UnknownKind.TangledRoutines, -1));
        for (int at = 0; at < walk.End; at++)
        {
            if (!states[at].IsReached)
                continue;
            Operation operation = walk.StepAt(at).Operation;
            if (operation == Operation.None)
                found.Add(new FlowUnknown(UnknownKind.NotAnInstruction, at));
            else if (walk.WildJumps.Contains(at))
                found.Add(new FlowUnknown(UnknownKind.ComputedJump, at));
            else if (
                operation is Operation.Call or Operation.Goto
                && !walk.Has(walk.TargetOf(at))
                && walk.TargetOf(at) != walk.Device?.Calibration?.Address
            )
                found.Add(new FlowUnknown(UnknownKind.Target, at));
        }

        return found.ToImmutable();
    }
}
