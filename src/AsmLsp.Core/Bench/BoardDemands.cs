using System.Collections.Immutable;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Flow;

namespace AsmLsp.Core.Bench;

/// <summary>What the configuration and the program demand of the board around the chip.</summary>
internal static class BoardDemands
{
    public static ImmutableArray<string> Of(BenchCard card)
    {
        var demands = ImmutableArray.CreateBuilder<string>();
        if (!card.HasConfiguration)
        {
            demands.Add(
                "This HEX does not set the whole configuration: oscillator, watchdog and reset are unknown. Set them in the source, or in the programmer."
            );
        }
        else
        {
            demands.Add(ClockOf(card));
            if (
                card.Configuration.Oscillator is { } oscillator
                && card.Subject.Clock is { } clock
                && OscillatorFit.Of(card.Device, oscillator, clock) is { } misfit
            )
                demands.Add("Caution: " + misfit);
            demands.Add(ResetOf(card));
            if (BenchPins.LowVoltagePin(card) is { } low)
                demands.Add(
                    $"Low-voltage programming is on: {Named(card, low)} must be tied low by a resistor, or the chip may fall into programming mode."
                );
        }

        string[] openDrain =
        [
            .. card
                .StartUp.Pins.Where(static f => f.Pin.IsOpenDrain && !f.IsInput && f.Owner is null)
                .Select(f => card.Where(f.Pin)),
        ];
        if (openDrain.Length > 0)
            demands.Add(
                $"{string.Join(" and ", openDrain)} only pulls low: without a pull-up resistor on the board it never goes high."
            );
        foreach (ConfigurationConcern concern in card.HasConfiguration ? card.Configuration.Concerns : [])
        {
            if (
                concern.Kind
                is ConfigurationConcernKind.WatchdogOn
                    or ConfigurationConcernKind.CodeProtectionOn
                    or ConfigurationConcernKind.DataProtectionOn
                    or ConfigurationConcernKind.DebuggerOn
                    or ConfigurationConcernKind.NoNamedSetting
            )
                demands.Add("Caution: " + concern.Text);
        }

        return demands.ToImmutable();
    }

    private static string ClockOf(BenchCard card)
    {
        string rate = card.Subject.Clock is { } clock ? $" of {clock.Rate}" : "";
        string pins = card.PinsWith("OSC1", "OSC2", "CLKI", "CLKO");
        string at = pins.Length > 0 ? $" at {pins}" : "";
        return card.Configuration.Oscillator switch
        {
            { NeedsCrystal: true } oscillator =>
                $"A crystal or resonator{(rate.Length > 0 ? rate : " (its rate is not known)")}{at}: the {KindOf(oscillator.Kind)} setting.",
            { Kind: OscillatorKind.ExternalRc } => $"A resistor and a capacitor at {card.PinsWith("OSC1", "CLKI")}.",
            { Kind: OscillatorKind.ExternalClock } => $"A clock{rate} fed into {card.PinsWith("OSC1", "CLKI")}.",
            { Kind: OscillatorKind.Internal } => "No crystal: the chip makes its clock itself.",
            _ => "The oscillator setting is unknown.",
        };
    }

    private static string ResetOf(BenchCard card)
    {
        string pin = card.PinsWith("/MCLR");
        return !BenchPins.IsReset(card) ? $"The reset pin is a plain input ({pin}): nothing outside resets the chip."
            : pin.Length > 0 ? $"{pin} resets the chip while it is low: it needs a pull-up to VDD."
            : "The reset pin needs a pull-up to VDD.";
    }

    private static string Named(BenchCard card, string portPin) =>
        card.StartUp.Pins.FirstOrDefault(f => f.Pin.Name == portPin) is { } found ? card.Where(found.Pin) : portPin;

    private static string KindOf(OscillatorKind kind) =>
        kind switch
        {
            OscillatorKind.CrystalLp => "LP",
            OscillatorKind.CrystalXt => "XT",
            _ => "HS",
        };
}
