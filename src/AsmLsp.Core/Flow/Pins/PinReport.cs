using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Execution;
using AsmLsp.Core.Instructions;

namespace AsmLsp.Core.Flow.Pins;

/// <summary>Whether a pin is an input or an output.</summary>
public enum PinDirection
{
    /// <summary>An input.</summary>
    Input,

    /// <summary>An output.</summary>
    Output,

    /// <summary>An input at some times and an output at others.</summary>
    Both,
}

/// <summary>The level that an output gives.</summary>
public enum PinLevel
{
    /// <summary>Not known.</summary>
    Unknown,

    /// <summary>Low.</summary>
    Low,

    /// <summary>High.</summary>
    High,

    /// <summary>The program changes it.</summary>
    Changes,
}

/// <summary>What a pin is at a time.</summary>
/// <param name="Direction">Input or output.</param>
/// <param name="Level">The level that the latch gives an output; for an input what waits in the latch.</param>
/// <param name="IsAnalog">Whether an analog part owns it, so that it reads as 0; null where that is not known.</param>
/// <param name="HasPullUp">Whether the weak pull-up of the port is on.</param>
/// <param name="Special">What another part of the chip or the configuration makes of it, or null.</param>
public sealed record PinState(PinDirection Direction, PinLevel Level, bool? IsAnalog, bool HasPullUp, string? Special)
{
    /// <summary>In words.</summary>
    public override string ToString()
    {
        string level = Level switch
        {
            PinLevel.Low => "low",
            PinLevel.High => "high",
            PinLevel.Changes => "toggled",
            _ => "level not known",
        };
        string what = Direction switch
        {
            PinDirection.Output => "output, " + level,
            PinDirection.Both => "input and output, " + level,
            _ when IsAnalog == true => "analog input",
            _ when IsAnalog is null => "input, analog or digital",
            _ => HasPullUp ? "input with pull-up" : "input",
        };
        return Special is null ? what : $"{Special}; {what}";
    }
}

/// <summary>A pin of the chip in a program.</summary>
/// <param name="Name">The port bit, such as <c>RB3</c>.</param>
/// <param name="Port">The register of the port.</param>
/// <param name="Bit">The bit in it.</param>
/// <param name="Package">The pin of the package, or null where the chip has none that is known.</param>
/// <param name="Names">What the program calls it.</param>
/// <param name="AtReset">What it is after the reset.</param>
/// <param name="AfterStart">What it is where the main loop begins, or without one where the program sleeps; null where there is neither, or the program begins in its loop.</param>
/// <param name="InLoop">What it is in the main loop, the routines that it calls and interrupts; null where there is no main loop.</param>
public sealed record PinFacts(
    string Name,
    Register Port,
    int Bit,
    Pin? Package,
    ImmutableArray<string> Names,
    PinState AtReset,
    PinState? AfterStart,
    PinState? InLoop
);

/// <summary>What every pin of the chip is at reset, after start-up and in the main loop of a program.</summary>
public sealed class PinReport
{
    private readonly PinAnalysis analysis;
    private readonly AnalogPins analog;
    private readonly FlowGraph graph;
    private readonly Device device;
    private readonly ConfigurationReading configuration;

    private PinReport(FlowGraph graph, Device device)
    {
        (this.graph, this.device) = (graph, device);
        var registers = new PinRegisters(device);
        analysis = PinAnalysis.Of(graph, registers);
        analog = new AnalogPins(registers);
        configuration = ConfigurationReading.Read(device, graph.Program.Image.Memory);
        Loop = MainLoop.Of(graph);
        Pins = [.. Facts()];
    }

    /// <summary>The main loop, or null where the program has none.</summary>
    public MainLoop? Loop { get; }

    /// <summary>The pins, port by port.</summary>
    public ImmutableArray<PinFacts> Pins { get; }

    internal PinAnalysis Analysis => analysis;

    /// <summary>The pins of a program, or null where it names no chip or has errors.</summary>
    public static PinReport? Of(ProgramAnalysis program)
    {
        ArgumentNullException.ThrowIfNull(program);
        return program is { HasErrors: false, Device: not null }
            ? program.Derive(static p => new PinReport(FlowGraph.Of(p), p.Device!))
            : null;
    }

    /// <summary>What the configuration makes of a pin of the package, or null: reset input, crystal, and the like.</summary>
    public string? ConfiguredUse(Pin pin)
    {
        ArgumentNullException.ThrowIfNull(pin);
        return PinSpecials.ByConfiguration(device, configuration, pin.Name, pin.Functions);
    }

    /// <summary>What a pin is right after an instruction, or null where nothing reaches it.</summary>
    public PinState? After(int address, PinFacts pin)
    {
        ArgumentNullException.ThrowIfNull(pin);
        return analysis.After(address) is { } state
            ? StateOf(pin.Name, FunctionsOf(pin.Package), Number(pin.Port), pin.Bit, state)
            : null;
    }

    /// <summary>The pins whose port or direction an instruction writes.</summary>
    public IEnumerable<PinFacts> WrittenBy(int address)
    {
        foreach ((int register, int mask, _) in analysis.WritesOf(address))
        foreach (PinFacts pin in Pins)
        {
            int port = Number(pin.Port);
            PinRegisters all = analysis.Registers;
            if (
                (mask >> pin.Bit & 1) != 0
                && (register == port || register == all.Directions[port] || register == all.Latches[port])
            )
                yield return pin;
        }
    }

    private int Number(Register port) => analysis.Registers.NumberAt(port.Address);

    private IEnumerable<PinFacts> Facts()
    {
        KnownBits[] reset = analysis.PowerOn();
        KnownBits[]? start = Entry(),
            loop = null;
        var written = new KnownBits[analysis.Registers.Count];
        var turned = new int[analysis.Registers.Count];
        foreach (int at in LoopWords())
        {
            foreach ((int register, int mask, KnownBits value) in analysis.WritesOf(at))
            {
                written[register] = written[register].Join(new KnownBits(0, 0).Take(value, mask));
                if (graph.Walk.StepAt(at).Operation is Operation.Xorwf or Operation.Comf)
                    turned[register] |= mask;
            }
        }

        // Routines may be called before the loop too, so only what they write counts, not what they find.
        foreach (int at in Loop?.Words ?? new HashSet<int>())
            if (analysis.Before(at) is { } before)
                Join(loop ??= new KnownBits[before.Length], before);
        if (loop is not null)
            Join(loop, written);

        foreach (int port in analysis.Registers.Ports)
        {
            Register register = analysis.Registers.All[port]!;
            for (int bit = 0; bit < 8; bit++)
            {
                if ((register.PresentMask >> bit & 1) == 0)
                    continue;
                string name = (register.Name == "GPIO" ? "GP" : "R" + register.Name[^1]) + bit;
                Pin? package = device.Pins.FirstOrDefault(p => p.Functions.Contains(name));
                ImmutableArray<string> functions = FunctionsOf(package);
                PinState? inLoop = loop is null ? null : StateOf(name, functions, port, bit, loop);
                int latch = Latch(port);
                bool changes =
                    (written[latch].Open >> bit & 1) != 0 || ((turned[latch] | turned[port]) >> bit & 1) != 0;
                if (inLoop is not null && (changes || ((loop![latch].Open >> bit & 1) != 0 && IsWritten(latch, bit))))
                    inLoop = inLoop with { Level = PinLevel.Changes };
                yield return new PinFacts(
                    name,
                    register,
                    bit,
                    package,
                    NamesOf(register, bit),
                    StateOf(name, functions, port, bit, reset),
                    start is null ? null : StateOf(name, functions, port, bit, start),
                    inLoop
                );
            }
        }

        bool IsWritten(int register, int bit) => ((written[register].Zero | written[register].One) >> bit & 1) != 0;
    }

    private int Latch(int port) => analysis.Registers.Latches[port] is >= 0 and int latch ? latch : port;

    private static ImmutableArray<string> FunctionsOf(Pin? pin) => pin?.Functions ?? [];

    private PinState StateOf(string name, ImmutableArray<string> functions, int port, int bit, KnownBits[] state)
    {
        KnownBits direction = state[analysis.Registers.Directions[port]],
            latch = state[Latch(port)];
        bool isInputOnly = device.InputOnlyPins.Contains(name);
        bool mayInput = (direction.One >> bit & 1) != 0 || isInputOnly,
            mayOutput = (direction.Zero >> bit & 1) != 0 && !isInputOnly;
        PinDirection what =
            mayInput && mayOutput ? PinDirection.Both
            : mayOutput ? PinDirection.Output
            : PinDirection.Input;
        PinLevel level =
            (latch.Open >> bit & 1) != 0 ? PinLevel.Unknown
            : (latch.One >> bit & 1) != 0 ? PinLevel.High
            : PinLevel.Low;
        return new PinState(
            what,
            level,
            analog.IsAnalog(name, functions, state),
            HasPullUp(name, state),
            PinSpecials.ByConfiguration(device, configuration, name, functions)
                ?? PinSpecials.ByRegisters(analysis.Registers, state, functions)
        );
    }

    // Port B of the larger chips has pull-ups for all its inputs, switched by a bit that is 0 for on (DS35007B, register 2-2).
    private bool HasPullUp(string name, KnownBits[] state)
    {
        int option = analysis.Registers.Find("OPTION_REG");
        return option > 0
            && name.StartsWith("RB", StringComparison.Ordinal)
            && analysis.Registers.All[option]!.Bit(7)?.Name == "/RBPU"
            && (state[option].One & 0x80) == 0
            && device.FindRegister("WPUB") is null;
    }

    // What holds where the main loop is entered, on the paths from outside only.
    private KnownBits[]? Entry()
    {
        KnownBits[]? entry = null;
        // A program without a main loop may end in SLEEP.
        if (Loop is null && graph.Calls.Main is { } main)
            foreach (int at in main.Words)
                if (graph.Walk.StepAt(at).Operation == Operation.Sleep && analysis.Before(at) is { } asleep)
                    Join(entry ??= new KnownBits[asleep.Length], asleep);
        if (Loop is not { Entries.Count: > 0 } loop)
            return entry;
        foreach (int from in loop.Entries)
        {
            if (analysis.After(from) is not { } after)
                continue;
            Join(entry ??= new KnownBits[after.Length], after);
        }

        return entry;
    }

    private static void Join(KnownBits[] into, KnownBits[] from)
    {
        for (int i = 0; i < into.Length; i++)
            into[i] = into[i].Join(from[i]);
    }

    // The words of the main loop, of what it calls, and of interrupts.
    private HashSet<int> LoopWords()
    {
        var words = new HashSet<int>();
        if (Loop is null)
            return words;
        words.UnionWith(Loop.Words);
        var open = new Stack<RoutineBody>();
        var seen = new HashSet<RoutineBody>();
        foreach (int at in Loop.Words)
            Call(at);
        if (graph.Calls.Interrupt is { } interrupt && Loop.Words.Any(at => graph.StateAt(at).MayInterrupt))
            open.Push(interrupt);
        while (open.TryPop(out RoutineBody? routine))
        {
            if (!seen.Add(routine))
                continue;
            words.UnionWith(routine.Words);
            foreach ((int at, _) in routine.Calls)
                Call(at);
        }

        return words;

        void Call(int at)
        {
            if (
                graph.Walk.StepAt(at).Operation == Operation.Call
                && graph.Calls.Routines.TryGetValue(graph.Walk.TargetOf(at), out RoutineBody? called)
            )
                open.Push(called);
        }
    }

    // Names that the program gives the pin: '#define lamp PORTB,3', in the order of their lines.
    private ImmutableArray<string> NamesOf(Register port, int bit)
    {
        var names = ImmutableArray.CreateBuilder<string>();
        foreach ((string name, int address, int number) in PinNames.Of(graph.Program))
            if (number == bit && device.DataMemory.Canonical(address) == port.Address)
                names.Add(name);
        return names.ToImmutable();
    }
}
