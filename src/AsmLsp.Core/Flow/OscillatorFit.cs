using AsmLsp.Core.Devices;

namespace AsmLsp.Core.Flow;

/// <summary>
/// Compares the oscillator that a configuration selects with the clock that the program (or its board) has. The ranges
/// of the crystal settings are those of data sheet DS35007B, section 6.2: LP up to 200 kHz, XT to 4 MHz, HS from 4 MHz.
/// </summary>
internal static class OscillatorFit
{
    private const double LowestXt = 100e3;
    private const double HighestLp = 200e3;
    private const double HighestXt = 4e6;
    private const double LowestUsualHs = 1e6;

    // Crystals are marked a little off their round rate: 4.096 and 4.194304 MHz run in the 4 MHz setting.
    private const double Tolerance = 1.05;

    /// <summary>What does not fit, in a sentence, or null where nothing is wrong.</summary>
    public static string? Of(Device device, Oscillator oscillator, Clock clock)
    {
        if (clock.Source == ClockSource.Chip)
            return null;
        if (clock.Hertz > device.MaxClockHertz * 1.001)
            return $"The clock of {clock.Rate} is more than any {device.Name} is made for ({Clock.RateOf(device.MaxClockHertz)}).";
        switch (oscillator.Kind)
        {
            case OscillatorKind.CrystalLp when clock.Hertz > HighestLp:
                return $"The LP setting drives slow crystals up to 200 kHz: with {clock.Rate} the clock may never start. {Better(clock)}";
            case OscillatorKind.CrystalXt when clock.Hertz > HighestXt * Tolerance:
                return $"The XT setting is for crystals up to 4 MHz: with {clock.Rate} the clock may not start, or stop when it is warm. {Better(clock)}";
            case OscillatorKind.CrystalXt when clock.Hertz < LowestXt:
                return $"The XT setting drives a {clock.Rate} crystal too hard. {Better(clock)}";
            case OscillatorKind.CrystalHs when clock.Hertz < LowestUsualHs:
                return $"The HS setting is for crystals from 4 MHz up and drives a {clock.Rate} crystal too hard. {Better(clock)}";
            case OscillatorKind.ExternalRc when clock.IsCrystal:
                return $"The program speaks of a crystal ({clock.Rate}), but this setting is for a resistor and capacitor: with a crystal fitted the chip does not run. {Better(clock)}";
            case OscillatorKind.Internal when clock.IsCrystal:
                return $"The program speaks of a crystal ({clock.Rate}), but this setting runs on the oscillator inside the chip: a crystal that is fitted does nothing.";
            case OscillatorKind.Internal
                when oscillator.FixedHertz is { } inside && Math.Abs(inside - clock.Hertz) > inside * 0.02:
                return $"The clock is given as {clock.Rate}, but the oscillator inside this chip runs at {Clock.RateOf(inside)}.";
            default:
                return null;
        }
    }

    private static string Better(Clock clock) =>
        clock.Hertz switch
        {
            <= HighestLp => "LP is the setting for it.",
            <= HighestXt * Tolerance => "XT is the setting for it.",
            _ => "HS is the setting for it.",
        };
}
