using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Host.Building;

namespace AsmLsp.Rendering;

/// <summary>The end of a build for people: figures, configuration field by field, cautions for the bench.</summary>
internal static class BuildSummaryText
{
    /// <summary>File, chip and figures in one line.</summary>
    public static string Heading(ProgramAnalysis program, BuildResult result) =>
        $"{program.Root.ShortName} for {result.Summary.Device?.Name ?? "a chip that is not named"}: {result.Summary.ToLine(result.Refusal is not null)}";

    /// <summary>Every configuration field with its setting, then the cautions.</summary>
    public static void WriteConfiguration(TextWriter output, ProgramAnalysis program)
    {
        if (program.Device is not { } device)
            return;
        ConfigurationReading reading = ConfigurationReading.Read(device, program.Image.Memory);
        TextTable.Write(
            output,
            [],
            [.. reading.Fields.Select(static f => new[] { f.Field.Field.Name, f.Field.InWords })],
            "  "
        );
        foreach (string caution in CautionsOf(program))
            TextTable.Paragraph(output, "  Caution: ", caution);
    }

    /// <summary>What to know at the bench before a chip is programmed, a sentence or two each.</summary>
    public static IEnumerable<string> CautionsOf(ProgramAnalysis program)
    {
        if (program.Device is not { } device)
            yield break;
        foreach (ConfigurationConcern concern in ConfigurationReading.Read(device, program.Image.Memory).Concerns)
            yield return concern.Text;
        if (device.FindField(ConfigRole.FactoryTrim) is { } trim)
            yield return $"{trim.Field.Name} in the configuration word is set by the factory. Read the chip and write it down before you erase it.";
        if (device.Calibration is { } calibration)
            yield return string.Create(
                CultureInfo.InvariantCulture,
                $"The word at 0x{calibration.Address:X4} holds a factory value ({calibration.Content}). Read the chip and write it down before you erase it."
            );
        if (device.IsOneTimeProgrammable)
            yield return $"{device.Name} in a plastic package can be programmed once only: compare the listing before you do.";
    }
}
