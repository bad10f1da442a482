using System.Collections.Immutable;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Hex;

namespace AsmLsp.Core.Instructions;

/// <summary>In which way two words at one address differ.</summary>
public enum DifferenceKind
{
    /// <summary>The second memory has no word here.</summary>
    OnlyInFirst,

    /// <summary>The first memory has no word here.</summary>
    OnlyInSecond,

    /// <summary>The same instruction with another operand.</summary>
    Operand,

    /// <summary>Another instruction, or data.</summary>
    Instruction,

    /// <summary>The same instruction; only bits differ that the chip does not look at.</summary>
    DontCareBits,

    /// <summary>Another configuration.</summary>
    Configuration,

    /// <summary>Only configuration bits differ that the chip does not have.</summary>
    UnusedConfigurationBits,

    /// <summary>An ID word.</summary>
    Identification,

    /// <summary>A byte of the EEPROM.</summary>
    Eeprom,

    /// <summary>The factory's calibration word: each chip has its own.</summary>
    Calibration,

    /// <summary>Only bits of the configuration differ that the factory sets for each chip.</summary>
    FactoryBits,

    /// <summary>The device ID word, which the chip brings along and no build holds.</summary>
    DeviceIdentity,

    /// <summary>A word where a HEX file should hold none.</summary>
    Other,
}

/// <summary>A word that differs; null means a word that is not there.</summary>
public sealed record Difference(int Address, ushort? First, ushort? Second, DifferenceKind Kind)
{
    /// <summary>Whether a chip programmed with the one would behave as one programmed with the other.</summary>
    public bool IsHarmless =>
        Kind
            is DifferenceKind.DontCareBits
                or DifferenceKind.UnusedConfigurationBits
                or DifferenceKind.Identification
                or DifferenceKind.Calibration
                or DifferenceKind.FactoryBits
                or DifferenceKind.DeviceIdentity
        || (
            Kind is DifferenceKind.OnlyInFirst or DifferenceKind.OnlyInSecond
            && HexAreas.Of(Address) == HexArea.Identification
        );
}

/// <summary>Compares two memories word by word, by what the difference means.</summary>
public static class MemoryComparison
{
    private const ushort ErasedWord = 0x3FFF;

    /// <summary>
    /// The differences in order of their addresses. A word that is erased on one side and absent on the other is no
    /// difference. With a chip, unused configuration bits and what the factory sets are distinguished.
    /// </summary>
    public static ImmutableArray<Difference> Compare(WordMemory first, WordMemory second, Device? device = null)
    {
        ArgumentNullException.ThrowIfNull(first);
        ArgumentNullException.ThrowIfNull(second);
        var differences = ImmutableArray.CreateBuilder<Difference>();
        foreach (int address in first.Select(c => c.Key).Union(second.Select(c => c.Key)).Order())
        {
            (ushort? a, ushort? b) = (first[address], second[address]);
            if (a == b || (IsErased(address, a, device) && IsErased(address, b, device)))
                continue;
            differences.Add(new Difference(address, a, b, KindOf(address, a, b, device)));
        }

        return differences.ToImmutable();
    }

    /// <summary>
    /// Whether a word is what an erased chip holds there, or absent. Files that fill all 16 bits of a cell hold 0xFFFF
    /// for an erased word; a byte of the EEPROM is 0xFF, whatever the upper half of its cell is.
    /// </summary>
    public static bool IsErased(int address, ushort? word, Device? device = null)
    {
        if (word is not { } value || value is ErasedWord or 0xFFFF)
            return true;
        return HexAreas.Of(address) switch
        {
            HexArea.Eeprom => value == 0x00FF,
            HexArea.Configuration => device?.ConfigurationWords.FirstOrDefault(w => w.Address == address) is { } known
                && ((value ^ known.Erased) & known.Implemented) == 0,
            _ => false,
        };
    }

    private static DifferenceKind KindOf(int address, ushort? a, ushort? b, Device? device)
    {
        if (address == HexAreas.DeviceIdentity && (a is null || b is null))
            return DifferenceKind.DeviceIdentity;
        if (device?.Calibration is { } calibration && address == calibration.Address && IsFactoryValue(a, b))
            return DifferenceKind.Calibration;
        if (b is null)
            return DifferenceKind.OnlyInFirst;
        if (a is null)
            return DifferenceKind.OnlyInSecond;
        switch (HexAreas.Of(address))
        {
            case HexArea.Identification:
                return DifferenceKind.Identification;
            case HexArea.Eeprom:
                return ((a ^ b) & 0xFF) == 0 && IsHighHalfEmpty(a.Value) && IsHighHalfEmpty(b.Value)
                    ? DifferenceKind.DontCareBits
                    : DifferenceKind.Eeprom;
            case HexArea.Configuration:
                return OfConfiguration(
                    (a ^ b).Value,
                    device?.ConfigurationWords.FirstOrDefault(w => w.Address == address)
                );
            case HexArea.Other:
                return DifferenceKind.Other;
        }

        if (
            InstructionSet.Decode(a.Value) is not { } one
            || InstructionSet.Decode(b.Value) is not { } other
            || one.Instruction != other.Instruction
        )
            return DifferenceKind.Instruction;
        return (one.First, one.Second) == (other.First, other.Second)
            ? DifferenceKind.DontCareBits
            : DifferenceKind.Operand;
    }

    private static DifferenceKind OfConfiguration(int bits, ConfigurationWord? word)
    {
        if ((bits & (word?.Implemented ?? ErasedWord)) == 0)
            return DifferenceKind.UnusedConfigurationBits;
        int trim = word?.Field(ConfigRole.FactoryTrim)?.Mask ?? 0;
        return word is not null && (bits & word.Implemented & ~trim) == 0
            ? DifferenceKind.FactoryBits
            : DifferenceKind.Configuration;
    }

    // A build holds no calibration word, or a copy of another chip's; the factory's is a RETLW (data sheet DS41190G).
    private static bool IsFactoryValue(ushort? a, ushort? b) =>
        (a is null || IsReturnWithValue(a.Value)) && (b is null || IsReturnWithValue(b.Value));

    private static bool IsReturnWithValue(ushort word) => InstructionSet.Decode(word) is { Instruction.Name: "retlw" };

    private static bool IsHighHalfEmpty(ushort word) => word >> 8 is 0 or 0x3F or 0xFF;
}
