using System.Collections.Immutable;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Hex;

namespace AsmLsp.Core.Bench;

/// <summary>What a port pin does after the start, by the runs that were made.</summary>
/// <param name="Pin">The pin.</param>
/// <param name="High">With all inputs high.</param>
/// <param name="Low">With all inputs low.</param>
/// <param name="Follows">Inputs that change it when they alone go low, with what it does then.</param>
/// <param name="IsRead">Whether the program looks at it as an input.</param>
/// <param name="IsUndefined">Whether it depends on what memory holds after power-on, which no program can rely on.</param>
/// <param name="Owner">What may own the pin in place of the port, or null.</param>
public sealed record PinFinding(
    PortPin Pin,
    PinBehavior High,
    PinBehavior Low,
    ImmutableArray<(PortPin Input, PinBehavior Behavior)> Follows,
    bool IsRead,
    bool IsUndefined,
    string? Owner
)
{
    /// <summary>Whether all runs show the same.</summary>
    public bool IsSame => High.IsLike(Low) && Follows.IsEmpty;

    /// <summary>Whether it is an input in every run.</summary>
    public bool IsInput => IsSame && High is { Action: PinAction.Steady, State: PinDrive.Input };
}

/// <summary>What a program does at the pins after its start, computed by running it with several levels at its inputs.</summary>
/// <param name="Pins">All port pins.</param>
/// <param name="Cycles">How many instruction cycles were run.</param>
/// <param name="Horizon">Where certainty ends, or null where nothing outside the computed parts is used.</param>
/// <param name="Modules">Registers of modules that the program uses and that are not computed.</param>
/// <param name="AsleepAt">Cycles after which the program sleeps, or null.</param>
/// <param name="Runs">How many runs were made.</param>
public sealed record StartUp(
    ImmutableArray<PinFinding> Pins,
    long Cycles,
    Horizon? Horizon,
    ImmutableArray<string> Modules,
    long? AsleepAt,
    int Runs
)
{
    private const long MostCycles = 5_000_000,
        AllCycles = 50_000_000;
    private const double Seconds = 5;
    private const int MostInputs = 16;

    /// <summary>Runs a program; deterministic.</summary>
    /// <param name="device">The chip.</param>
    /// <param name="memory">The words.</param>
    /// <param name="hertz">The clock, or null where it is not known.</param>
    public static StartUp Of(Device device, WordMemory memory, double? hertz)
    {
        ArgumentNullException.ThrowIfNull(device);
        ArgumentNullException.ThrowIfNull(memory);
        var ports = PortPins.Of(device);
        bool hasWatchdog =
            ConfigurationReading.Read(device, memory).Find(ConfigRole.Watchdog)?.Setting?.State == ConfigState.On;
        long cycles = hertz is { } rate ? (long)Math.Min(MostCycles, Seconds * rate / 4) : MostCycles;
        BoardRun high = Run(new RunStart(true, null, 0x00)),
            low = Run(new RunStart(false, null, 0x00)),
            highAgain = Run(new RunStart(true, null, 0xA5)),
            lowAgain = Run(new RunStart(false, null, 0xA5));
        BoardRun[] first = [high, low, highAgain, lowAgain];
        PortPin[] inputs = [.. ports.Pins.Where(p => first.Any(r => r.Inputs.Contains(p.Name))).Take(MostInputs)];
        long left = AllCycles - 4 * cycles;
        var turned = new List<(PortPin Pin, BoardRun Run)>();
        foreach (PortPin input in inputs)
        {
            if (left < cycles)
                break;
            left -= cycles;
            turned.Add((input, Run(new RunStart(true, input, 0x00))));
        }

        BoardRun[] all = [.. first, .. turned.Select(static t => t.Run)];
        Horizon? horizon = all.Select(static r => r.Horizon).OfType<Horizon>().MinBy(static h => h.Cycle);
        long end = Math.Min(cycles, horizon?.Cycle ?? cycles);
        ImmutableArray<PinFinding> findings =
        [
            .. ports.Pins.Select(pin =>
            {
                PinBehavior atHigh = PinBehavior.Of(high.TraceOf(pin), end),
                    atLow = PinBehavior.Of(low.TraceOf(pin), end);
                return new PinFinding(
                    pin,
                    atHigh,
                    atLow,
                    [
                        .. turned
                            .Select(t => (t.Pin, PinBehavior.Of(t.Run.TraceOf(pin), end)))
                            .Where(t => !t.Item2.IsLike(atHigh)),
                    ],
                    inputs.Contains(pin),
                    !PinBehavior.Of(highAgain.TraceOf(pin), end).IsLike(atHigh)
                        || !PinBehavior.Of(lowAgain.TraceOf(pin), end).IsLike(atLow),
                    OwnerOf(device, pin, high)
                );
            }),
        ];
        return new StartUp(
            findings,
            cycles,
            horizon,
            [.. all.SelectMany(static r => r.Modules).Distinct().Order(StringComparer.Ordinal)],
            all.All(static r => r.AsleepAt is not null) ? high.AsleepAt : null,
            all.Length
        );

        BoardRun Run(RunStart start)
        {
            var run = new BoardRun(device, memory, ports, start, hasWatchdog, hertz);
            run.Run(cycles);
            return run;
        }
    }

    // Something else than the port may own the pin: it was not made digital, or a module was turned on that has an output there.
    private static string? OwnerOf(Device device, PortPin pin, BoardRun run)
    {
        foreach (NotDigitalAtReset owner in device.NotDigitalAtReset)
        {
            if (owner.Pins.Contains(pin.Name) && !DigitalPins.AreFreed(device, owner, run.ValueOf))
                return owner.What;
        }

        foreach (string module in run.Modules)
        {
            string[] functions = module switch
            {
                "CCP1CON" => ["CCP1", "P1A", "P1B", "P1C", "P1D"],
                "CCP2CON" => ["CCP2"],
                "RCSTA" or "TXSTA" => ["TX", "RX", "CK", "DT"],
                "SSPCON" or "SSPCON1" => ["SCK", "SCL", "SDI", "SDA", "SDO", "/SS"],
                "T1CON" => ["T1OSO", "T1OSI"],
                _ => [],
            };
            if (pin.Pin?.Functions.Intersect(functions).FirstOrDefault() is { } function)
                return $"{function} ({module} is written)";
        }

        return null;
    }
}
