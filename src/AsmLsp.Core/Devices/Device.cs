using System.Collections.Immutable;
using AsmLsp.Core.Hex;

namespace AsmLsp.Core.Devices;

/// <summary>
/// Everything the tool knows about one chip. The facts are in <c>Data/NAME.json</c>, where each group of them
/// comes from in <c>Data/Sources/NAME.json</c> and, for people, in docs/chips.md.
/// </summary>
public sealed class Device
{
    /// <summary>The word address from which the bytes of the data EEPROM are in a HEX file, one byte a word.</summary>
    public const int EepromAddress = 0x2100;

    private readonly Lazy<DeviceSymbols> symbols;
    private readonly Lazy<WordMemory> blank;

    internal Device()
    {
        symbols = new Lazy<DeviceSymbols>(() => DeviceSymbols.Of(this));
        blank = new Lazy<WordMemory>(() =>
            WordMemory.From(ConfigurationWords.Select(word => KeyValuePair.Create(word.Address, (ushort)word.Erased)))
        );
    }

    /// <summary>The name, <c>PIC16F84A</c>.</summary>
    public required string Name { get; init; }

    /// <summary>The data sheet (number, with its revision letter where that text was read).</summary>
    public required string DataSheet { get; init; }

    /// <summary>The number of the programming specification, from memory.</summary>
    public required string ProgrammingSpecification { get; init; }

    /// <summary>Program memory in words of 14 bits; addresses run from 0.</summary>
    public required int ProgramWords { get; init; }

    /// <summary>Pages of 2048 words (1, 2 or 4) between which CALL and GOTO need PCLATH.</summary>
    public required int ProgramPages { get; init; }

    /// <summary>What program memory is made of.</summary>
    public required ProgramMemoryKind ProgramMemory { get; init; }

    /// <summary>In a plastic package the chip can be programmed once only: a mistake costs the chip.</summary>
    public bool IsOneTimeProgrammable => ProgramMemory == ProgramMemoryKind.Eprom;

    /// <summary>Where the program starts after reset.</summary>
    public required int ResetVector { get; init; }

    /// <summary>Where an interrupt calls.</summary>
    public required int InterruptVector { get; init; }

    /// <summary>Return addresses that the stack holds; one more overwrites the oldest without warning.</summary>
    public required int StackDepth { get; init; }

    /// <summary>Banks, registers by address, general-purpose memory.</summary>
    public required DataMemory DataMemory { get; init; }

    /// <summary>Bytes of data EEPROM, 0 where the chip has none. In a HEX file they are from <see cref="EepromAddress"/> on.</summary>
    public required int EepromBytes { get; init; }

    /// <summary>The special function registers in the order of their addresses.</summary>
    public required ImmutableArray<Register> Registers { get; init; }

    /// <summary>One or two configuration words.</summary>
    public required ImmutableArray<ConfigurationWord> ConfigurationWords { get; init; }

    /// <summary>Checksum rules, one for each case of code protection for which one is known.</summary>
    public required ImmutableArray<ChecksumRule> ChecksumRules { get; init; }

    /// <summary>The device ID word, or null where the chip has none.</summary>
    public required DeviceIdentity? Identity { get; init; }

    /// <summary>The four words for a number of one's own, outside program memory.</summary>
    public required MemoryRange UserId { get; init; }

    /// <summary>How many of the lowest bits of each ID word can be used.</summary>
    public required int UserIdBits { get; init; }

    /// <summary>The factory's calibration word in program memory, or null.</summary>
    public required CalibrationWord? Calibration { get; init; }

    /// <summary>The dual-in-line package (<c>PDIP-18</c>), or null where there is none.</summary>
    public required string? Package { get; init; }

    /// <summary>The pins of that package in their order; empty where there is none.</summary>
    public required ImmutableArray<Pin> Pins { get; init; }

    /// <summary>Port bits that only pull low.</summary>
    public required ImmutableArray<string> OpenDrainPins { get; init; }

    /// <summary>Port bits that can't be outputs.</summary>
    public required ImmutableArray<string> InputOnlyPins { get; init; }

    /// <summary>Supply voltage, for people.</summary>
    public required string Supply { get; init; }

    /// <summary>The highest clock of the fastest speed grade, in hertz.</summary>
    public required int MaxClockHertz { get; init; }

    /// <summary>What owns pins after reset, with the lines that free them.</summary>
    public required ImmutableArray<NotDigitalAtReset> NotDigitalAtReset { get; init; }

    /// <summary>Low-voltage programming, or null where the chip has none.</summary>
    public required LowVoltageProgramming? LowVoltageProgramming { get; init; }

    /// <summary>What has cost people an evening with this chip.</summary>
    public required ImmutableArray<string> Pitfalls { get; init; }

    /// <summary>The configuration words of an erased chip, at their addresses.</summary>
    public WordMemory BlankConfiguration => blank.Value;

    /// <summary>The names that a program for this chip may use without defining them; built at the first call.</summary>
    public DeviceSymbols Symbols => symbols.Value;

    /// <summary>The register with a name (any of its names, with its case), or null.</summary>
    public Register? FindRegister(string name) =>
        Symbols.Find(name) is { Kind: DeviceSymbolKind.Register } symbol ? symbol.Register : null;

    /// <summary>The configuration field with a role and the word that holds it, or null.</summary>
    public (ConfigurationWord Word, ConfigField Field)? FindField(ConfigRole role)
    {
        foreach (ConfigurationWord word in ConfigurationWords)
        {
            if (word.Field(role) is { } field)
                return (word, field);
        }

        return null;
    }

    /// <summary>The name.</summary>
    public override string ToString() => Name;
}
