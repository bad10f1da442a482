using System.Collections.Immutable;
using AsmLsp.Core.Devices;

namespace AsmLsp.Core.Bench;

/// <summary>The pins of the package with what they are on this board.</summary>
internal static class BenchPins
{
    public static ImmutableArray<BenchPin> Of(BenchCard card) => [.. card.Device.Pins.Select(pin => One(card, pin))];

    private static BenchPin One(BenchCard card, Pin pin)
    {
        (string role, string kind) = RoleOf(card, pin);
        if (
            kind is "in" or "out" or "both"
            && card.StartUp.Pins.FirstOrDefault(f => f.Pin.Pin == pin) is { } port
            && card.NameOf(port.Pin.Name) is { } own
        )
            role = $"{own}: {role}";
        return new BenchPin(pin.Number, pin.Name, pin.Functions, role, kind, ProgrammingOf(card.Device, pin));
    }

    private static (string Role, string Kind) RoleOf(BenchCard card, Pin pin)
    {
        if (Has("VDD", "AVDD", "VDDT"))
            return ("supply", "supply");
        if (Has("VSS", "AVSS", "VSST"))
            return ("ground", "ground");
        if (Has("/MCLR") && IsReset(card))
            return ("reset", "reset");
        if (card.HasConfiguration && ClockRole(card, pin) is { } clock)
            return (clock, "clock");
        if (card.StartUp.Pins.FirstOrDefault(f => f.Pin.Pin == pin) is not { } finding)
            return ("", "none");
        if (LowVoltagePin(card) == finding.Pin.Name)
            return ("programming input", "reset");
        if (finding.Owner is not null)
            return ("port or module: unknown", "both");
        if (finding.IsInput)
            return (finding.IsRead ? "input" : "input, not looked at", "in");
        return (Level(card, finding), finding.High.Action == PinAction.BothWays ? "both" : "out");

        bool Has(params string[] functions) => pin.Functions.Intersect(functions).Any();
    }

    /// <summary>Whether the reset pin resets: a chip without that choice has it always.</summary>
    public static bool IsReset(BenchCard card) =>
        card.Configuration.Find(ConfigRole.ResetPin) is not { Setting.State: ConfigState.Off };

    /// <summary>The port pin that is the programming input while low-voltage programming is on, or null.</summary>
    public static string? LowVoltagePin(BenchCard card) =>
        card.Configuration.Find(ConfigRole.LowVoltageProgramming) is { Setting.State: ConfigState.On } low
            ? low.Field.Pin
            : null;

    private static string? ClockRole(BenchCard card, Pin pin)
    {
        bool isIn = pin.Functions.Intersect(["OSC1", "CLKIN", "CLKI"]).Any(),
            isOut = pin.Functions.Intersect(["OSC2", "CLKOUT", "CLKO"]).Any();
        if ((!isIn && !isOut) || card.Configuration.Oscillator is not { } oscillator)
            return null;
        if (oscillator.NeedsCrystal)
            return "crystal";
        if (isOut && (oscillator.ClockOutPin is { } clockOut ? pin.Functions.Contains(clockOut) : false))
            return "instruction clock out";
        return oscillator.Kind switch
        {
            OscillatorKind.ExternalRc when isIn => "resistor and capacitor",
            OscillatorKind.ExternalClock when isIn => "clock input",
            _ => null,
        };
    }

    private static string Level(BenchCard card, PinFinding finding)
    {
        string end = card.StartUp.Horizon is null ? "" : " at first";
        if (finding.IsUndefined)
            return "output, level unknown";
        if (!finding.IsSame)
            return "output, follows inputs";
        return finding.High switch
        {
            { Action: PinAction.Pulses } => "output, pulses" + end,
            { Action: PinAction.Steady, State: PinDrive.High } => "output, high" + end,
            { Action: PinAction.Steady, State: PinDrive.Low } => "output, low" + end,
            { Action: PinAction.Steady, State: PinDrive.Released } => "open drain, lets go" + end,
            { Action: PinAction.BothWays } => "input and output",
            _ => "output, changes" + end,
        };
    }

    private static string? ProgrammingOf(Device device, Pin pin)
    {
        if (pin.Functions.Contains("VPP"))
            return "programming voltage";
        if (pin.Functions.Intersect(["PGC", "ICSPCLK"]).Any())
            return "programming clock";
        if (pin.Functions.Intersect(["PGD", "ICSPDAT"]).Any())
            return "programming data";
        return pin.Functions.Contains("PGM") || device.LowVoltageProgramming?.Pin == pin.Name
            ? "low-voltage programming"
            : null;
    }
}
