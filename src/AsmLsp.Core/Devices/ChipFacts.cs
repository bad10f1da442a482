using System.Collections.Immutable;

namespace AsmLsp.Core.Devices;

/// <summary>What program memory is made of: whether a mistake can be corrected on the same chip.</summary>
public enum ProgramMemoryKind
{
    /// <summary>Flash: erased and written again in the programmer.</summary>
    Flash,

    /// <summary>EEPROM: erased and written again in the programmer.</summary>
    Eeprom,

    /// <summary>EPROM: written once in a plastic package; a windowed ceramic package is erased by ultraviolet light.</summary>
    Eprom,
}

/// <summary>The word that says a programmer which chip it has before it.</summary>
/// <param name="Address">Word address, 0x2006.</param>
/// <param name="Value">The chip's number, from memory of the programming specification.</param>
/// <param name="Mask">The bits that count; the others hold the silicon revision.</param>
public sealed record DeviceIdentity(int Address, int Value, int Mask);

/// <summary>A word that the factory wrote into program memory and that must survive.</summary>
/// <param name="Address">Word address in program memory.</param>
/// <param name="Register">The register that its value belongs in.</param>
/// <param name="Content">What the word is.</param>
/// <param name="Use">How a program uses it.</param>
public sealed record CalibrationWord(int Address, string Register, string Content, string Use);

/// <summary>Pins that something other than the port owns after reset.</summary>
/// <param name="What">What owns them.</param>
/// <param name="Pins">Port bits (<c>RA0</c>).</param>
/// <param name="Code">Source lines that make the pins digital; they leave bank 0 selected.</param>
public sealed record NotDigitalAtReset(string What, ImmutableArray<string> Pins, ImmutableArray<string> Code);

/// <summary>The pin and the configuration field of low-voltage programming.</summary>
/// <param name="Pin">The port bit that becomes the PGM input.</param>
/// <param name="Field">The name of the configuration field.</param>
public sealed record LowVoltageProgramming(string Pin, string Field);

/// <summary>
/// How a device programmer reckons the checksum for one setting of code protection:
/// plain words + scrambled words + configuration words + ID words + a constant, the lowest 16 bits of it.
/// </summary>
/// <param name="ProtectionBits">The bits of the code-protection field that this rule is for, in their place.</param>
/// <param name="Sum">Program words summed as they are, or null.</param>
/// <param name="Scrambled">Program words of which a protected old EPROM part shows only the XNOR of both 7-bit halves, or null.</param>
/// <param name="ConfigurationMasks">For each configuration word the bits that count.</param>
/// <param name="ConfigurationSet">Bits set in the first masked configuration word.</param>
/// <param name="Constant">Added at the end.</param>
/// <param name="WithUserId">Whether the low digits of the four ID words are added, the first one highest.</param>
public sealed record ChecksumRule(
    int ProtectionBits,
    MemoryRange? Sum,
    MemoryRange? Scrambled,
    ImmutableArray<int> ConfigurationMasks,
    int ConfigurationSet,
    int Constant,
    bool WithUserId
);
