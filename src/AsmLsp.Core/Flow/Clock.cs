using System.Globalization;

namespace AsmLsp.Core.Flow;

/// <summary>Where the clock's rate is known from.</summary>
public enum ClockSource
{
    /// <summary>Settings, an option or the project file.</summary>
    Settings,

    /// <summary>A comment of the program.</summary>
    Comment,

    /// <summary>The configuration selects an internal oscillator of one rate.</summary>
    Chip,
}

/// <summary>The chip's clock.</summary>
/// <param name="Hertz">Clock periods a second; an instruction cycle takes four of them.</param>
/// <param name="Source">Where the rate is known from.</param>
/// <param name="IsCrystal">Whether the comment speaks of a crystal or resonator.</param>
public sealed record Clock(double Hertz, ClockSource Source, bool IsCrystal)
{
    private const int PeriodsOfCycle = 4;

    /// <summary>Seconds that a number of instruction cycles takes.</summary>
    public double Seconds(long cycles) => cycles * PeriodsOfCycle / Hertz;

    /// <summary>The time that a number of instruction cycles takes, for people: <c>1.5 ms</c>.</summary>
    public string Time(long cycles) => Time(Seconds(cycles));

    /// <summary>The rate for people: <c>4 MHz</c>.</summary>
    public string Rate => RateOf(Hertz);

    /// <summary>A time in seconds with the unit that suits it, four digits at most.</summary>
    public static string Time(double seconds) =>
        seconds switch
        {
            0 => "0 s",
            < 0.9999e-6 => Digits(seconds * 1e9) + " ns",
            < 0.9999e-3 => Digits(seconds * 1e6) + " µs",
            < 0.9999 => Digits(seconds * 1e3) + " ms",
            _ => Digits(seconds) + " s",
        };

    /// <summary>A rate in hertz with the unit that suits it.</summary>
    public static string RateOf(double hertz) =>
        hertz switch
        {
            >= 1e6 => (hertz / 1e6).ToString("0.######", CultureInfo.InvariantCulture) + " MHz",
            >= 1e3 => (hertz / 1e3).ToString("0.###", CultureInfo.InvariantCulture) + " kHz",
            _ => hertz.ToString("0.###", CultureInfo.InvariantCulture) + " Hz",
        };

    private static string Digits(double value) =>
        value switch
        {
            >= 1000 => value.ToString("0", CultureInfo.InvariantCulture),
            >= 100 => value.ToString("0.#", CultureInfo.InvariantCulture),
            >= 10 => value.ToString("0.##", CultureInfo.InvariantCulture),
            _ => value.ToString("0.###", CultureInfo.InvariantCulture),
        };
}
