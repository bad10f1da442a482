using System.Collections.Immutable;

namespace AsmLsp.Core.Devices;

/// <summary>A configuration word: 14 bits outside program memory that set oscillator, watchdog, protection and the like.</summary>
/// <param name="Address">Word address, 0x2007 (and 0x2008 on chips with two).</param>
/// <param name="Implemented">The bits that exist.</param>
/// <param name="Erased">What an erased chip holds.</param>
/// <param name="Fields">The fields from the highest bits down.</param>
/// <param name="Note">What is odd about the word on this chip, or null.</param>
public sealed record ConfigurationWord(
    int Address,
    int Implemented,
    int Erased,
    ImmutableArray<ConfigField> Fields,
    string? Note
)
{
    /// <summary>Reads a word: for every field the setting that its bits make.</summary>
    /// <param name="word">The word as programmed; bits that do not exist are ignored.</param>
    public ImmutableArray<DecodedField> Decode(int word)
    {
        var decoded = ImmutableArray.CreateBuilder<DecodedField>(Fields.Length);
        foreach (ConfigField field in Fields)
            decoded.Add(new DecodedField(field, word & field.Mask, field.SettingFor(word)));
        return decoded.MoveToImmutable();
    }

    /// <summary>The field with a role, or null where this word has none.</summary>
    public ConfigField? Field(ConfigRole role)
    {
        foreach (ConfigField field in Fields)
        {
            if (field.Role == role)
                return field;
        }

        return null;
    }
}

/// <summary>One field of a configuration word as read from a value.</summary>
/// <param name="Field">The field.</param>
/// <param name="Bits">Its bits in their place.</param>
/// <param name="Setting">The setting that these bits make, or null where the data sheet names none.</param>
public sealed record DecodedField(ConfigField Field, int Bits, ConfigSetting? Setting)
{
    /// <summary>What the setting does, for people.</summary>
    public string Meaning => Setting?.Meaning ?? "no named setting";

    /// <summary>The same, saying what it is about where the setting alone does not: not everybody knows what FOSC means.</summary>
    public string InWords => Field.Role == ConfigRole.Oscillator ? $"clock: {Meaning}" : Meaning;
}

/// <summary>A field of a configuration word.</summary>
/// <param name="Name">The name in the data sheet; a leading <c>/</c> means a bar.</param>
/// <param name="Mask">The bits of the field in their place.</param>
/// <param name="Role">What the field decides.</param>
/// <param name="Settings">The settings that the data sheet names.</param>
/// <param name="Pin">The port bit concerned (reset pin, low-voltage programming), or null.</param>
/// <param name="Note">What to mind, or null.</param>
public sealed record ConfigField(
    string Name,
    int Mask,
    ConfigRole Role,
    ImmutableArray<ConfigSetting> Settings,
    string? Pin,
    string? Note
)
{
    /// <summary>The setting that a whole configuration word makes of this field, or null where its bits have no named setting.</summary>
    public ConfigSetting? SettingFor(int word)
    {
        foreach (ConfigSetting setting in Settings)
        {
            if (setting.Value == (word & Mask))
                return setting;
        }

        return null;
    }
}

/// <summary>One choice of a configuration field.</summary>
/// <param name="Value">The bits of the field in their place.</param>
/// <param name="State">What the choice comes to, for fields that switch something.</param>
/// <param name="Oscillator">The oscillator that the choice selects, for the oscillator field.</param>
/// <param name="InternalHertz">The rate in hertz that the choice fixes for the internal oscillator, or null.</param>
/// <param name="Meaning">What the choice does, for people.</param>
/// <param name="Names">How programs spell it, the best-attested spelling first; empty where no spelling is known.</param>
public sealed record ConfigSetting(
    int Value,
    ConfigState State,
    Oscillator? Oscillator,
    int? InternalHertz,
    string Meaning,
    ImmutableArray<string> Names
);

/// <summary>What a configuration field decides.</summary>
public enum ConfigRole
{
    /// <summary>Where the clock comes from.</summary>
    Oscillator,

    /// <summary>Whether the watchdog runs.</summary>
    Watchdog,

    /// <summary>Whether the chip waits about 72 ms after power-up.</summary>
    PowerUpDelay,

    /// <summary>Whether a dip of the supply resets the chip.</summary>
    BrownOut,

    /// <summary>At which voltage a dip resets the chip.</summary>
    BrownOutLevel,

    /// <summary>Whether the reset pin resets or is a plain input.</summary>
    ResetPin,

    /// <summary>Whether the chip can be programmed without the high programming voltage.</summary>
    LowVoltageProgramming,

    /// <summary>Whether program memory can be read back.</summary>
    CodeProtection,

    /// <summary>Whether the data EEPROM can be read back.</summary>
    DataProtection,

    /// <summary>Which program memory the program itself may write.</summary>
    SelfWrite,

    /// <summary>Whether the in-circuit debugger owns its pins.</summary>
    Debugger,

    /// <summary>Whether the chip starts on the internal oscillator until the crystal runs.</summary>
    TwoSpeedStart,

    /// <summary>Whether a failed clock is replaced by the internal one.</summary>
    ClockMonitor,

    /// <summary>The speed of the internal oscillator.</summary>
    InternalSpeed,

    /// <summary>Which pin a peripheral uses.</summary>
    PeripheralPin,

    /// <summary>A factory trim, to be kept.</summary>
    FactoryTrim,
}

/// <summary>What a setting comes to.</summary>
public enum ConfigState
{
    /// <summary>The field is no switch, or the setting is not used.</summary>
    Unspecified,

    /// <summary>Off. Protection: readable. Reset pin: plain input. Self-write: not allowed.</summary>
    Off,

    /// <summary>On. Protection: all of it. Reset pin: resets. Self-write: everywhere.</summary>
    On,

    /// <summary>On for a part of the memory.</summary>
    Partly,

    /// <summary>On while the chip runs, off in sleep.</summary>
    WhileAwake,

    /// <summary>The program switches it.</summary>
    ByProgram,
}
