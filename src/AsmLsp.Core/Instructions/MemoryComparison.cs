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

    /// <summary>A word where a HEX file should hold none.</summary>
    Other,
}

/// <summary>A word that differs; null stands for a word that is not there.</summary>
public sealed record Difference(int Address, ushort? First, ushort? Second, DifferenceKind Kind)
{
    /// <summary>Whether a chip programmed with the one would behave as one programmed with the other.</summary>
    public bool IsHarmless =>
        Kind is DifferenceKind.DontCareBits or DifferenceKind.UnusedConfigurationBits or DifferenceKind.Identification
        || (
            Kind is DifferenceKind.OnlyInFirst or DifferenceKind.OnlyInSecond
            && HexAreas.Of(Address) == HexArea.Program
            && (First ?? Second) == 0x3FFF
        );
}

/// <summary>Compares two memories word by word, by what the difference means.</summary>
public static class MemoryComparison
{
    /// <summary>The differences in order of their addresses; with a chip, unused configuration bits are told apart.</summary>
    public static ImmutableArray<Difference> Compare(WordMemory first, WordMemory second, Device? device = null)
    {
        ArgumentNullException.ThrowIfNull(first);
        ArgumentNullException.ThrowIfNull(second);
        var differences = ImmutableArray.CreateBuilder<Difference>();
        foreach (int address in first.Select(c => c.Key).Union(second.Select(c => c.Key)).Order())
        {
            (ushort? a, ushort? b) = (first[address], second[address]);
            if (a != b)
                differences.Add(new Difference(address, a, b, KindOf(address, a, b, device)));
        }

        return differences.ToImmutable();
    }

    private static DifferenceKind KindOf(int address, ushort? a, ushort? b, Device? device)
    {
        if (b is null)
            return DifferenceKind.OnlyInFirst;
        if (a is null)
            return DifferenceKind.OnlyInSecond;
        switch (HexAreas.Of(address))
        {
            case HexArea.Identification:
                return DifferenceKind.Identification;
            case HexArea.Eeprom:
                return DifferenceKind.Eeprom;
            case HexArea.Configuration:
                int used = device?.ConfigurationWords.FirstOrDefault(w => w.Address == address)?.Implemented ?? 0x3FFF;
                return ((a ^ b) & used) == 0 ? DifferenceKind.UnusedConfigurationBits : DifferenceKind.Configuration;
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
}
