using System.Collections.Immutable;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Hex;

namespace AsmLsp.Core.Readouts;

/// <summary>A field of the configuration that the build and the read-out set differently.</summary>
/// <param name="Field">The field.</param>
/// <param name="Sentence">Both settings in words, such as <c>watchdog on in the chip, off in the build</c>.</param>
public sealed record ConfigurationDifference(ConfigField Field, string Sentence)
{
    /// <summary>The fields that differ, what the factory sets left out; empty without a chip.</summary>
    public static ImmutableArray<ConfigurationDifference> Of(Device? device, WordMemory build, WordMemory readout)
    {
        if (device is null)
            return [];
        var found = ImmutableArray.CreateBuilder<ConfigurationDifference>();
        ConfigurationReading ours = ConfigurationReading.Read(device, build),
            theirs = ConfigurationReading.Read(device, readout);
        for (int i = 0; i < ours.Fields.Length; i++)
        {
            (DecodedField a, DecodedField b) = (ours.Fields[i].Field, theirs.Fields[i].Field);
            if (a.Bits == b.Bits || a.Field.Role == ConfigRole.FactoryTrim)
                continue;
            found.Add(new ConfigurationDifference(a.Field, Describe(a, b)));
        }

        return found.ToImmutable();
    }

    private static string Describe(DecodedField build, DecodedField chip)
    {
        string? name = NameOf(build.Field.Role);
        return name is not null && StateOf(build.Setting) is { } off && StateOf(chip.Setting) is { } on && on != off
            ? $"{name} {on} in the chip, {off} in the build"
            : $"{name ?? build.Field.Name}: {chip.Meaning} in the chip, {build.Meaning} in the build";
    }

    private static string? NameOf(ConfigRole role) =>
        role switch
        {
            ConfigRole.Oscillator => "oscillator",
            ConfigRole.Watchdog => "watchdog",
            ConfigRole.PowerUpDelay => "power-up delay",
            ConfigRole.BrownOut => "brown-out reset",
            ConfigRole.LowVoltageProgramming => "low-voltage programming",
            ConfigRole.CodeProtection => "code protection",
            ConfigRole.DataProtection => "EEPROM protection",
            ConfigRole.Debugger => "debugger",
            ConfigRole.ResetPin => "reset pin",
            _ => null,
        };

    private static string? StateOf(ConfigSetting? setting) =>
        setting?.State switch
        {
            ConfigState.On => "on",
            ConfigState.Off => "off",
            ConfigState.Partly => "partly on",
            ConfigState.WhileAwake => "on while awake",
            ConfigState.ByProgram => "switched by the program",
            _ => null,
        };
}
