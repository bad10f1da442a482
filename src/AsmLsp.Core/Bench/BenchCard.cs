using System.Collections.Immutable;
using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Flow;
using AsmLsp.Core.Flow.Pins;
using AsmLsp.Core.Hex;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Readouts;

namespace AsmLsp.Core.Bench;

/// <summary>What a card is about.</summary>
/// <param name="Name">The name of the HEX file.</param>
/// <param name="Memory">Its words.</param>
/// <param name="Device">The chip.</param>
public sealed record BenchSubject(string Name, WordMemory Memory, Device Device)
{
    /// <summary>The clock, or null where it is not known.</summary>
    public Clock? Clock { get; init; }

    /// <summary>What the program calls its port pins, by their names in the data sheet; empty for a HEX file.</summary>
    public IReadOnlyDictionary<string, ImmutableArray<string>> Names { get; init; } =
        ImmutableDictionary<string, ImmutableArray<string>>.Empty;

    /// <summary>Open doubts of the source.</summary>
    public int Doubts { get; init; }

    /// <summary>Warnings of the source, doubts not counted.</summary>
    public int Warnings { get; init; }

    /// <summary>How many boards the record of the batch has rows for; 0 for none.</summary>
    public int Boards { get; init; }

    /// <summary>How many labels are printed; 0 for none.</summary>
    public int Labels { get; init; }

    /// <summary>The subject of an assembled program.</summary>
    public static BenchSubject Of(string name, ProgramAnalysis program, Device device, double? hertz = null)
    {
        ArgumentNullException.ThrowIfNull(program);
        return new BenchSubject(name, program.Image.Memory, device)
        {
            Clock = ClockFinder.Find(program, hertz ?? program.Options.ClockHertz),
            Names =
                PinReport.Of(program)?.Pins.ToDictionary(static p => p.Name, static p => p.Names)
                ?? new Dictionary<string, ImmutableArray<string>>(),
        };
    }

    /// <summary>The subject of a HEX file: the clock is known only where a person says it, or the configuration fixes it.</summary>
    public static BenchSubject Of(string name, WordMemory memory, Device device, double? hertz = null)
    {
        ArgumentNullException.ThrowIfNull(memory);
        ArgumentNullException.ThrowIfNull(device);
        double? rate = hertz ?? ConfigurationReading.Read(device, memory).FixedClockHertz;
        return new BenchSubject(name, memory, device)
        {
            Clock = rate is { } known
                ? new Clock(known, hertz is null ? ClockSource.Chip : ClockSource.Settings, false)
                : null,
        };
    }
}

/// <summary>A line of facts: what, and its value.</summary>
/// <param name="Name">What it is.</param>
/// <param name="Value">Its value, for people.</param>
public sealed record BenchFact(string Name, string Value);

/// <summary>A pin as the card shows it.</summary>
/// <param name="Number">The number of the pin.</param>
/// <param name="Name">Its first function.</param>
/// <param name="Functions">All functions.</param>
/// <param name="Role">What it is on this board, in a few words.</param>
/// <param name="Kind">The class of it: supply, ground, reset, clock, out, in, both, none.</param>
/// <param name="Programming">Its part in programming, or null.</param>
public sealed record BenchPin(
    int Number,
    string Name,
    ImmutableArray<string> Functions,
    string Role,
    string Kind,
    string? Programming
);

/// <summary>Something to probe, before or after programming.</summary>
/// <param name="Where">The pin, such as <c>RB1 (pin 7)</c>, or the whole chip.</param>
/// <param name="Cases">What is to be seen, one sentence a case; an unknown says so.</param>
/// <param name="IsKnown">Whether it is known.</param>
public sealed record Probe(string Where, ImmutableArray<string> Cases, bool IsKnown)
{
    internal Probe(string where, string expect, bool isKnown)
        : this(where, [expect], isKnown) { }

    /// <summary>All cases in one line.</summary>
    public string Expect => string.Join("; ", Cases);
}

/// <summary>A step of programming, with the cautions that belong to it.</summary>
/// <param name="Text">What to do.</param>
/// <param name="Cautions">What to mind while doing it.</param>
public sealed record BenchStep(string Text, ImmutableArray<string> Cautions);

/// <summary>Everything that a person needs at the bench to program a chip, and to see that the board works; computed, never invented.</summary>
public sealed class BenchCard
{
    private BenchCard(BenchSubject subject)
    {
        Subject = subject;
        Device device = subject.Device;
        Configuration = ConfigurationReading.Read(device, subject.Memory);
        StartUp = StartUp.Of(device, subject.Memory, subject.Clock?.Hertz);
        Checksum = DeviceChecksum.Compute(device, subject.Memory);
        Words = subject.Memory.Count(c =>
            HexAreas.Of(c.Key) == HexArea.Program && !MemoryComparison.IsErased(c.Key, c.Value)
        );
        EepromBytes = subject.Memory.Count(static c => HexAreas.Of(c.Key) == HexArea.Eeprom);
        HasConfiguration = Configuration.IsComplete;
        Pins = BenchPins.Of(this);
        Board = BoardDemands.Of(this);
        Before = BenchProbes.Before(this);
        After = BenchProbes.After(this);
        Steps = BenchSteps.Of(this);
        Facts = FactsOf();
    }

    /// <summary>What the card is about.</summary>
    public BenchSubject Subject { get; }

    /// <summary>The chip.</summary>
    public Device Device => Subject.Device;

    /// <summary>The configuration, field by field; that of an erased chip where the HEX sets none.</summary>
    public ConfigurationReading Configuration { get; }

    /// <summary>Whether the HEX sets every configuration word of the chip.</summary>
    public bool HasConfiguration { get; }

    /// <summary>What the program does at the pins.</summary>
    public StartUp StartUp { get; }

    /// <summary>The checksum that programmers show, or null where no rule is known.</summary>
    public int? Checksum { get; }

    /// <summary>Programmed words.</summary>
    public int Words { get; }

    /// <summary>Bytes for the EEPROM.</summary>
    public int EepromBytes { get; }

    /// <summary>The pins of the package in their order; empty where no dual-in-line package is known.</summary>
    public ImmutableArray<BenchPin> Pins { get; }

    /// <summary>What the program and its configuration demand of the board.</summary>
    public ImmutableArray<string> Board { get; }

    /// <summary>What to probe with a blank chip.</summary>
    public ImmutableArray<Probe> Before { get; }

    /// <summary>What to probe with the programmed chip.</summary>
    public ImmutableArray<Probe> After { get; }

    /// <summary>Programming, step by step.</summary>
    public ImmutableArray<BenchStep> Steps { get; }

    /// <summary>The facts of chip and HEX.</summary>
    public ImmutableArray<BenchFact> Facts { get; }

    /// <summary>Makes the card; the same subject gives the same card.</summary>
    public static BenchCard Of(BenchSubject subject)
    {
        ArgumentNullException.ThrowIfNull(subject);
        return new BenchCard(subject);
    }

    /// <summary>A time for people: in seconds where the clock is known, else in instruction cycles.</summary>
    internal string Time(long cycles) =>
        Subject.Clock?.Time(cycles) ?? Text($"{cycles:N0} instruction cycle{(cycles == 1 ? "" : "s")}");

    /// <summary>A port pin with the number of its pin.</summary>
    internal string Where(PortPin pin)
    {
        string name = NameOf(pin.Name) is { } own ? $"{pin.Name} {own}" : pin.Name;
        return pin.Pin is { } known ? Text($"{name} (pin {known.Number})") : name;
    }

    /// <summary>What the program calls a port pin, or null.</summary>
    internal string? NameOf(string portPin) =>
        Subject.Names.TryGetValue(portPin, out ImmutableArray<string> names) && !names.IsEmpty
            ? string.Join("/", names.Take(2))
            : null;

    /// <summary>Pins of the package that have a function, as <c>VDD (pin 14)</c>.</summary>
    internal string PinsWith(params string[] functions) =>
        string.Join(
            " and ",
            Device
                .Pins.Where(p => p.Functions.Intersect(functions).Any())
                .Select(p => Text($"{p.Functions.First(functions.Contains)} (pin {p.Number})"))
        );

    internal static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);

    private ImmutableArray<BenchFact> FactsOf()
    {
        var facts = ImmutableArray.CreateBuilder<BenchFact>();
        Add(
            "HEX file",
            Text($"{Subject.Name}, {IntelHexWriter.Write(Subject.Memory).Length} bytes as relist writes it")
        );
        Add(
            "Chip",
            $"{Device.Name}{(Device.Package is { } package ? $", {package}" : "")}, data sheet {Device.DataSheet}"
        );
        Add("Words used", Text($"{Words} of {Device.ProgramWords}"));
        Add(
            "EEPROM",
            Device.EepromBytes == 0 ? "none"
                : EepromBytes == 0 ? Text($"nothing is written (the chip has {Device.EepromBytes} bytes)")
                : Text($"{EepromBytes} of {Device.EepromBytes} bytes")
        );
        Add("Checksum", Checksum is { } sum ? Text($"{sum:X4}") : "unknown: no rule is known for this setting");
        foreach (ConfigurationWord word in Device.ConfigurationWords)
            Add(
                Text($"Configuration at 0x{word.Address:X4}"),
                Subject.Memory[word.Address] is { } value ? Text($"0x{value:X4}") : "not set by this HEX"
            );
        Add(
            "Device ID",
            Device.Identity is { } id
                ? Text($"0x{id.Value:X4} at 0x{id.Address:X4}; the bits in 0x{0x3FFF & ~id.Mask:X4} are the revision")
                : "this chip has none"
        );
        string userId = string.Join(
            " ",
            Subject
                .Memory.Where(static c => HexAreas.Of(c.Key) == HexArea.Identification)
                .Select(static c => Text($"{c.Value:X4}"))
        );
        if (userId.Length > 0)
            Add("ID words", userId);
        Add("Supply", Device.Supply);
        Add("Fastest clock", Text($"{Clock.RateOf(Device.MaxClockHertz)} (the fastest grade)"));
        Add(
            "Clock here",
            Subject.Clock is { } clock
                ? clock.Rate + (clock.Source == ClockSource.Chip ? ", made inside the chip" : "")
                : "unknown: name it with --clock, and times take the place of instruction cycles"
        );
        return facts.ToImmutable();

        void Add(string name, string value) => facts.Add(new BenchFact(name, value));
    }
}
