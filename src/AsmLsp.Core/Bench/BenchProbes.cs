using System.Collections.Immutable;
using AsmLsp.Core.Devices;

namespace AsmLsp.Core.Bench;

/// <summary>What to probe with a blank chip in the socket, and with the programmed one.</summary>
internal static class BenchProbes
{
    public static ImmutableArray<Probe> Before(BenchCard card)
    {
        Device device = card.Device;
        var probes = ImmutableArray.CreateBuilder<Probe>();
        string supply = card.PinsWith("VDD"),
            ground = card.PinsWith("VSS");
        if (supply.Length > 0)
            probes.Add(new($"{supply} to {ground}", $"the supply of this part: {device.Supply}", true));
        if (BenchPins.IsReset(card) && card.PinsWith("/MCLR") is { Length: > 0 } reset)
            probes.Add(new(reset, "high, at the supply", true));
        probes.Add(
            new(
                "Every port pin",
                "floats: a blank chip leaves all of them inputs. A pin with a fixed level is held by the board",
                true
            )
        );
        if (card.PinsWith("OSC2", "CLKO") is { Length: > 0 } clockOut)
            probes.Add(BlankClock(device, clockOut));
        if (
            ConfigurationReading.Read(device, device.BlankConfiguration).Find(ConfigRole.LowVoltageProgramming)
                is { Setting.State: ConfigState.On } low
            && card.StartUp.Pins.FirstOrDefault(f => f.Pin.Name == low.Field.Pin) is { } pin
        )
            probes.Add(
                new(
                    card.Where(pin.Pin),
                    "low: in a blank chip low-voltage programming is on, and this pin must not float",
                    true
                )
            );
        probes.Add(
            new(
                "Supply current",
                "low: no pin drives anything. How low is not in the chip's facts here; see the data sheet "
                    + device.DataSheet,
                false
            )
        );
        return probes.ToImmutable();
    }

    public static ImmutableArray<Probe> After(BenchCard card)
    {
        var probes = ImmutableArray.CreateBuilder<Probe>();
        if (card.HasConfiguration && card.PinsWith("OSC2", "CLKO") is { Length: > 0 } clockOut)
        {
            if (card.Configuration.Oscillator is { NeedsCrystal: true })
                probes.Add(new(clockOut, $"oscillates{(card.Subject.Clock is { } c ? $" at {c.Rate}" : "")}", true));
            else if (card.Configuration.Oscillator is { ClockOutPin: not null })
                probes.Add(
                    new(
                        clockOut,
                        $"the instruction clock{(card.Subject.Clock is { } c ? $", {Flow.Clock.RateOf(c.Hertz / 4)}" : "")}",
                        true
                    )
                );
        }

        foreach (PinFinding finding in card.StartUp.Pins)
        {
            if (OfPin(card, finding) is { } probe)
                probes.Add(probe);
        }

        if (card.StartUp.AsleepAt is { } asleep)
            probes.Add(new("Whole chip", $"sleeps from {card.Time(asleep)} after the start on", true));
        if (card.StartUp.Horizon is { } horizon)
            probes.Add(
                new(
                    "Everything",
                    $"unknown from {card.Time(horizon.Cycle)} after the start on, because {horizon.Reason}",
                    false
                )
            );
        return probes.ToImmutable();
    }

    private static Probe? OfPin(BenchCard card, PinFinding finding)
    {
        string where = card.Where(finding.Pin);
        // A pin that is clock or reset here is no port pin.
        if (card.Pins.FirstOrDefault(p => p.Number == finding.Pin.Pin?.Number) is { Kind: "clock" or "reset" })
            return null;
        if (finding.Owner is { } owner)
            return new(where, $"unknown: {owner}", false);
        if (finding.IsUndefined)
            return new(
                where,
                "unknown: it depends on what memory holds after power-on, which the program does not set first",
                false
            );
        if (finding.IsInput)
            return finding.IsRead
                ? new(where, "an input that the program looks at: the board must give its level", true)
                : null;
        if (finding.IsSame)
            return new(where, $"{Describe(card, finding.High)}, the same in all runs", true);
        var cases = ImmutableArray.CreateBuilder<string>();
        if (finding.High.IsLike(finding.Low))
        {
            cases.Add($"all inputs high, and all low: {Describe(card, finding.High)}");
        }
        else
        {
            cases.Add($"all inputs high: {Describe(card, finding.High)}");
            cases.Add($"all inputs low: {Describe(card, finding.Low)}");
        }

        foreach (
            IGrouping<string, PortPin> group in finding
                .Follows.GroupBy(f => Describe(card, f.Behavior), static f => f.Input)
                .Take(3)
        )
            cases.Add($"only {string.Join(" or ", group.Select(card.Where))} low: {group.Key}");
        return new(where, cases.ToImmutable(), true);
    }

    private static Probe BlankClock(Device device, string clockOut)
    {
        Oscillator? oscillator = ConfigurationReading.Read(device, device.BlankConfiguration).Oscillator;
        return oscillator switch
        {
            { Kind: OscillatorKind.ExternalRc } => new(
                clockOut,
                "no crystal clock: a blank chip selects the resistor-capacitor oscillator",
                true
            ),
            { Kind: OscillatorKind.Internal, ClockOutPin: not null } => new(
                clockOut,
                "a quarter of the internal clock: a blank chip selects the internal oscillator with its clock brought out",
                true
            ),
            { Kind: OscillatorKind.Internal } => new(
                clockOut,
                "no crystal clock: a blank chip selects the internal oscillator",
                true
            ),
            _ => new(clockOut, "unknown: what a blank chip selects is not known here", false),
        };
    }

    private static string Describe(BenchCard card, PinBehavior behavior) =>
        behavior switch
        {
            { Action: PinAction.Steady, State: PinDrive.Input } => "stays an input",
            { Action: PinAction.Steady } =>
                $"{Level(behavior.State)} within {card.Time(behavior.Since)} of the start, and stays so",
            { Action: PinAction.Pulses, Period: { } period, High: { } high } =>
                $"pulses every {card.Time(period)}, high for {card.Time(high)} of it, from {card.Time(behavior.Since)} on",
            { Action: PinAction.Pulses, Period: { } period } =>
                $"pulses every {card.Time(period)}, from {card.Time(behavior.Since)} on",
            { Action: PinAction.Pulses } =>
                $"pulses without one period: {card.Time(behavior.Shortest)} to {card.Time(behavior.Longest)} from rise to rise",
            { Action: PinAction.BothWays } => "is input and output by turns",
            _ => $"changes from {card.Time(behavior.Since)} on; no period shows in {card.Time(card.StartUp.Cycles)}",
        };

    private static string Level(PinDrive state) =>
        state switch
        {
            PinDrive.High => "high",
            PinDrive.Low => "low",
            PinDrive.Released => "let go (high by its pull-up)",
            _ => "an input",
        };
}
