using System.Collections.Immutable;
using AsmLsp.Core.Hex;

namespace AsmLsp.Core.Devices;

/// <summary>Something about a configuration that a person at the bench should know before the chip is programmed or replaced.</summary>
public enum ConfigurationConcernKind
{
    /// <summary>The watchdog runs.</summary>
    WatchdogOn,

    /// <summary>Program memory can't be read back.</summary>
    CodeProtectionOn,

    /// <summary>The data EEPROM can't be read back.</summary>
    DataProtectionOn,

    /// <summary>Low-voltage programming is on and takes a pin.</summary>
    LowVoltageProgrammingOn,

    /// <summary>The reset pin is a plain input.</summary>
    ResetPinIsInput,

    /// <summary>The in-circuit debugger owns its pins.</summary>
    DebuggerOn,

    /// <summary>A resistor (and capacitor) must make the clock: a board with a crystal will not run.</summary>
    ExternalRcOscillator,

    /// <summary>A field holds bits that the data sheet gives no meaning.</summary>
    NoNamedSetting,
}

/// <summary>One concern.</summary>
/// <param name="Kind">What it is about.</param>
/// <param name="Word">The configuration word.</param>
/// <param name="Field">The field.</param>
/// <param name="Setting">The setting, or null where there is no named one.</param>
/// <param name="Pin">The pin concerned, or null.</param>
/// <param name="Text">One or two sentences for people.</param>
public sealed record ConfigurationConcern(
    ConfigurationConcernKind Kind,
    ConfigurationWord Word,
    ConfigField Field,
    ConfigSetting? Setting,
    string? Pin,
    string Text
);

/// <summary>What the configuration words in a memory make of a chip.</summary>
public sealed class ConfigurationReading
{
    private ConfigurationReading(
        Device device,
        ImmutableArray<(ConfigurationWord, DecodedField)> fields,
        bool isComplete
    )
    {
        Device = device;
        Fields = fields;
        IsComplete = isComplete;
    }

    /// <summary>The chip.</summary>
    public Device Device { get; }

    /// <summary>Every field of every word with its setting.</summary>
    public ImmutableArray<(ConfigurationWord Word, DecodedField Field)> Fields { get; }

    /// <summary>Whether all words was in the memory; a missing one was read as that of an erased chip.</summary>
    public bool IsComplete { get; }

    /// <summary>The clock source, or null where its bits have no named setting.</summary>
    public Oscillator? Oscillator => Find(ConfigRole.Oscillator)?.Setting?.Oscillator;

    /// <summary>The clock in hertz where the configuration alone fixes it (an internal oscillator of one speed), else null.</summary>
    public int? FixedClockHertz =>
        Oscillator is not { Kind: OscillatorKind.Internal } oscillator
            ? null
            : oscillator.FixedHertz ?? Find(ConfigRole.InternalSpeed)?.Setting?.InternalHertz;

    /// <summary>What there is to know, in the order of the words and their fields.</summary>
    public ImmutableArray<ConfigurationConcern> Concerns
    {
        get
        {
            var concerns = ImmutableArray.CreateBuilder<ConfigurationConcern>();
            foreach ((ConfigurationWord word, DecodedField read) in Fields)
            {
                if (ConcernOf(word, read) is { } concern)
                    concerns.Add(concern);
            }

            return concerns.ToImmutable();
        }
    }

    /// <summary>Reads the configuration words of a memory; pass <see cref="Device.BlankConfiguration"/> for an erased chip.</summary>
    public static ConfigurationReading Read(Device device, WordMemory memory)
    {
        ArgumentNullException.ThrowIfNull(device);
        ArgumentNullException.ThrowIfNull(memory);
        var fields = ImmutableArray.CreateBuilder<(ConfigurationWord, DecodedField)>();
        bool complete = true;
        foreach (ConfigurationWord word in device.ConfigurationWords)
        {
            complete &= memory[word.Address] is not null;
            foreach (DecodedField field in word.Decode(memory[word.Address] ?? word.Erased))
                fields.Add((word, field));
        }

        return new ConfigurationReading(device, fields.ToImmutable(), complete);
    }

    /// <summary>The field with a role as read, or null where the chip has none.</summary>
    public DecodedField? Find(ConfigRole role)
    {
        foreach ((_, DecodedField field) in Fields)
        {
            if (field.Field.Role == role)
                return field;
        }

        return null;
    }

    private ConfigurationConcern? ConcernOf(ConfigurationWord word, DecodedField read)
    {
        ConfigField field = read.Field;
        ConfigurationConcern Concern(ConfigurationConcernKind kind, string text, string? pin = null) =>
            new(kind, word, field, read.Setting, pin, text);

        if (read.Setting is null)
        {
            return Concern(
                ConfigurationConcernKind.NoNamedSetting,
                $"The bits of {field.Name} hold 0x{read.Bits:X4}, for which the data sheet {Device.DataSheet} names no setting."
            );
        }

        ConfigState state = read.Setting.State;
        switch (field.Role)
        {
            case ConfigRole.Watchdog when state == ConfigState.On:
                return Concern(
                    ConfigurationConcernKind.WatchdogOn,
                    "The watchdog is on: a program that does not run CLRWDT in time starts again and again."
                );
            case ConfigRole.CodeProtection when state is ConfigState.On or ConfigState.Partly:
                return Concern(
                    ConfigurationConcernKind.CodeProtectionOn,
                    $"Code protection is on ({read.Meaning}): the chip can't be read back to check or copy it. "
                        + (
                            Device.IsOneTimeProgrammable
                                ? "On this EPROM chip protection may never come off again, not even under the ultraviolet lamp."
                                : "Only erasing the whole chip takes it off."
                        )
                );
            case ConfigRole.DataProtection when state == ConfigState.On:
                return Concern(
                    ConfigurationConcernKind.DataProtectionOn,
                    "The data EEPROM is protected: it can't be read back to check or copy it."
                );
            case ConfigRole.LowVoltageProgramming when state == ConfigState.On:
                return Concern(
                    ConfigurationConcernKind.LowVoltageProgrammingOn,
                    $"Low-voltage programming is on: {field.Pin} is the programming input, not a normal pin. Left open or high, it can throw the chip into programming mode, and the program seems dead.",
                    field.Pin
                );
            case ConfigRole.ResetPin when state == ConfigState.Off:
                return Concern(
                    ConfigurationConcernKind.ResetPinIsInput,
                    $"The reset pin {field.Pin} is a plain input: nothing outside resets the chip, and with the internal oscillator a programmer must raise VPP before VDD to get in again.",
                    field.Pin
                );
            case ConfigRole.Debugger when state == ConfigState.On:
                return Concern(
                    ConfigurationConcernKind.DebuggerOn,
                    $"The configuration turns the debugger on ({read.Meaning}): right only while a debugger is connected."
                );
            case ConfigRole.Oscillator when read.Setting.Oscillator is { Kind: OscillatorKind.ExternalRc }:
                return Concern(
                    ConfigurationConcernKind.ExternalRcOscillator,
                    $"The clock is made by a resistor and capacitor outside ({read.Meaning}): a board with a crystal does not run with this."
                );
            case ConfigRole.Oscillator when read.Setting.Oscillator is null:
                return Concern(
                    ConfigurationConcernKind.NoNamedSetting,
                    "The oscillator bits hold a setting that this chip does not have: it will not run."
                );
            default:
                return null;
        }
    }
}
