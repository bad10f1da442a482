using System.Collections.Immutable;
using AsmLsp.Core.Devices;

namespace AsmLsp.Core.Flow.Pins;

/// <summary>
/// What pins do beside being a port, by the configuration and by the bits that switch parts of the chip on. From memory of the data sheets
/// DS40300C and DS30292C (serial ports, capture/compare/PWM, Timer0, Timer1, INT).
/// </summary>
internal static class PinSpecials
{
    private static readonly (string Register, string Bit, string[] Functions, string Meaning)[] Parts =
    [
        ("RCSTA", "SPEN", ["RX", "TX", "DT", "CK"], "serial port"),
        ("SSPCON", "SSPEN", ["SCK", "SCL", "SDI", "SDA", "SDO"], "synchronous serial port"),
        ("CCP1CON", "CCP1M3", ["CCP1"], "PWM or compare 1"),
        ("CCP1CON", "CCP1M2", ["CCP1"], "capture or PWM 1"),
        ("CCP2CON", "CCP2M3", ["CCP2"], "PWM or compare 2"),
        ("CCP2CON", "CCP2M2", ["CCP2"], "capture or PWM 2"),
        ("T1CON", "T1OSCEN", ["T1OSO", "T1OSI"], "oscillator of Timer1"),
        ("T1CON", "TMR1CS", ["T1CKI"], "clock of Timer1"),
        ("INTCON", "INTE", ["INT"], "interrupt input"),
    ];

    /// <summary>What the configuration makes of a pin, or null.</summary>
    public static string? ByConfiguration(
        Device device,
        ConfigurationReading configuration,
        string name,
        ImmutableArray<string> functions
    )
    {
        DecodedField? reset = configuration.Find(ConfigRole.ResetPin);
        if (functions.Contains("/MCLR") && (reset is null || reset.Setting?.State == ConfigState.On))
            return "reset input";
        if (
            device.LowVoltageProgramming?.Pin == name
            && configuration.Find(ConfigRole.LowVoltageProgramming)?.Setting?.State == ConfigState.On
        )
            return "low-voltage programming input (PGM)";
        if (configuration.Oscillator is not { } oscillator)
            return null;
        if (oscillator.ClockOutPin == name)
            return "instruction clock output";
        bool first = functions.Contains("OSC1") || functions.Contains("CLKIN"),
            second = functions.Contains("OSC2");
        if (oscillator.NeedsCrystal)
            return first || second ? "crystal or resonator" : null;
        if (!first)
            return null;
        return oscillator.Kind switch
        {
            OscillatorKind.ExternalRc => "resistor and capacitor of the clock",
            OscillatorKind.ExternalClock => "clock input",
            _ => null,
        };
    }

    /// <summary>What a part of the chip makes of a pin with these registers, or null.</summary>
    public static string? ByRegisters(PinRegisters registers, KnownBits[] state, ImmutableArray<string> functions)
    {
        foreach ((string name, string bit, string[] served, string meaning) in Parts)
        {
            if (functions.FirstOrDefault(f => Array.IndexOf(served, f) >= 0) is not { } function)
                continue;
            if (registers.Find(name) is > 0 and int number && IsOn(registers.All[number]!, bit, state[number]))
                return $"{function} ({meaning})";
        }

        // Timer0 counts the pin T0CKI where T0CS is 1, as it is after reset: said only once the program has written it.
        return null;
    }

    private static bool IsOn(Register register, string bit, KnownBits value)
    {
        foreach (BitField field in register.Bits)
            if (field.Name == bit)
                return (value.Zero >> field.Number & 1) == 0;
        return false;
    }
}
