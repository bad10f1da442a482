namespace AsmLsp.Core.Devices;

/// <summary>Kinds of clock source.</summary>
public enum OscillatorKind
{
    /// <summary>A resistor (and capacitor) at the clock pin: cheap, not exact.</summary>
    ExternalRc,

    /// <summary>A watch crystal or another slow one, low drive.</summary>
    CrystalLp,

    /// <summary>A crystal or ceramic resonator up to 4 MHz.</summary>
    CrystalXt,

    /// <summary>A crystal or ceramic resonator above about 4 MHz.</summary>
    CrystalHs,

    /// <summary>The oscillator inside the chip: no parts needed.</summary>
    Internal,

    /// <summary>A clock fed in from outside.</summary>
    ExternalClock,
}

/// <summary>A clock source as selected by a configuration setting.</summary>
/// <param name="Kind">The kind.</param>
/// <param name="ClockOutPin">The pin that gives the instruction clock out, or null.</param>
/// <param name="FixedHertz">The rate in hertz where this setting has just one internal rate, else null.</param>
/// <param name="StartHertz">
/// The internal rate in hertz after power-on, until the program asks for another one; null for clocks from outside
/// and where another configuration field decides.
/// </param>
public sealed record Oscillator(OscillatorKind Kind, string? ClockOutPin, int? FixedHertz, int? StartHertz)
{
    /// <summary>Whether a crystal or resonator must be fitted.</summary>
    public bool NeedsCrystal =>
        Kind is OscillatorKind.CrystalLp or OscillatorKind.CrystalXt or OscillatorKind.CrystalHs;
}
