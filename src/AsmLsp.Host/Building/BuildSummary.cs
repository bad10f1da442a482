using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Hex;

namespace AsmLsp.Host.Building;

/// <summary>The figures of a build that a person compares with the programmer's display and the kit's instructions.</summary>
/// <param name="Device">The chip, or null where the program names none.</param>
/// <param name="WordsUsed">Words of program memory in use.</param>
/// <param name="WordsAvailable">Words that the chip has, or null without a chip.</param>
/// <param name="EepromBytes">Bytes of EEPROM that are set.</param>
/// <param name="Configuration">The configuration word as it is in the HEX, or null where the program sets none.</param>
/// <param name="Checksum">The checksum that device programmers show, or null where no rule is known.</param>
/// <param name="Errors">Number of errors.</param>
/// <param name="Warnings">Number of warnings, doubts not counted.</param>
/// <param name="Doubts">Number of places that are marked as doubtful.</param>
public sealed record BuildSummary(
    Device? Device,
    int WordsUsed,
    int? WordsAvailable,
    int EepromBytes,
    int? Configuration,
    int? Checksum,
    int Errors,
    int Warnings,
    int Doubts
)
{
    /// <summary>The figures of a program.</summary>
    public static BuildSummary Of(ProgramAnalysis program, int errors, int warnings, int doubts)
    {
        ArgumentNullException.ThrowIfNull(program);
        WordMemory memory = program.Image.Memory;
        return new BuildSummary(
            program.Device,
            program.Image.ProgramWords,
            program.Device?.ProgramWords,
            memory.Count(cell => HexAreas.Of(cell.Key) == HexArea.Eeprom),
            memory[HexAreas.Configuration],
            program.Device is { } device ? DeviceChecksum.Compute(device, memory) : null,
            errors,
            warnings,
            doubts
        );
    }

    /// <summary>The figures in one line: words used, checksum, configuration, what is left to look at. With an error, nothing that follows from the words.</summary>
    /// <param name="isRefused">Whether no HEX is written for another reason: then there is nothing that has a checksum.</param>
    public string ToLine(bool isRefused = false)
    {
        var parts = new List<string>();
        // A notice of an editor is cut at its end: what decides whether the chip runs comes first.
        if (Errors == 0)
            parts.Add(Settings());
        parts.Add(
            WordsAvailable is { } all
                ? string.Create(CultureInfo.InvariantCulture, $"{WordsUsed} of {all} words used")
                : string.Create(CultureInfo.InvariantCulture, $"{WordsUsed} words used")
        );
        if (EepromBytes > 0)
            parts.Add(string.Create(CultureInfo.InvariantCulture, $"{EepromBytes} EEPROM bytes"));
        if (Errors == 0 && !isRefused && Checksum is { } sum)
            parts.Add(string.Create(CultureInfo.InvariantCulture, $"checksum 0x{sum:X4}"));
        if (Errors > 0)
            parts.Add(Count(Errors, "error"));
        if (Doubts > 0)
            parts.Add(Count(Doubts, "open doubt"));
        if (Warnings > 0)
            parts.Add(Count(Warnings, "warning"));
        return string.Join(", ", parts);
    }

    private string Settings() =>
        Configuration is { } word
            ? string.Create(CultureInfo.InvariantCulture, $"configuration 0x{word:X4}")
            : "no configuration";

    private static string Count(int number, string what) =>
        string.Create(CultureInfo.InvariantCulture, $"{number} {what}{(number == 1 ? "" : "s")}");
}
