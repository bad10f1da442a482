using System.CommandLine;
using System.Globalization;
using AsmLsp.Core.Devices;
using AsmLsp.Rendering;

namespace AsmLsp.Verbs;

/// <summary><c>relist chips</c>: the chips that are known, and the facts of one.</summary>
internal sealed class ChipsVerb : IVerb
{
    /// <inheritdoc/>
    public IReadOnlyList<string> Examples { get; } = ["relist chips", "relist chips 16F84A"];

    /// <inheritdoc/>
    public Command Create()
    {
        var name = new Argument<string?>("NAME")
        {
            Description = "A chip, such as PIC16F84A or 16f628a-04/P.",
            Arity = ArgumentArity.ZeroOrOne,
        };
        Option<bool> json = Sources.JsonOption();
        var command = new Command(
            "chips",
            "List the chips that are known, or show memory, configuration and pins of one."
        )
        {
            name,
            json,
        };
        command.SetAction(parsed =>
            Run(
                parsed.GetValue(name),
                parsed.GetValue(json),
                parsed.InvocationConfiguration.Output,
                parsed.InvocationConfiguration.Error
            )
        );
        return command;
    }

    private static int Run(string? name, bool isJson, TextWriter output, TextWriter error)
    {
        if (name is null)
        {
            if (isJson)
            {
                VisibleWriter
                    .Data(output)
                    .Write(ChipJson.Of(DeviceCatalog.Names.Select(static n => DeviceCatalog.Find(n)!)));
                return ExitCodes.Clean;
            }

            TextTable.Write(
                output,
                ["chip", ">words", ">RAM", ">EEPROM", ">banks", ">pins", "memory"],
                [.. DeviceCatalog.Names.Select(static known => Row(DeviceCatalog.Find(known)!))]
            );
            return ExitCodes.Clean;
        }

        if (!HexInput.TryChip(name, error, out Device? device))
            return ExitCodes.Unusable;
        if (isJson)
            VisibleWriter.Data(output).Write(ChipJson.Of([device!]));
        else
            DeviceText.Write(output, device!);
        return ExitCodes.Clean;
    }

    private static string[] Row(Device chip) =>
        [
            chip.Name,
            Number(chip.ProgramWords),
            Number(chip.DataMemory.GeneralPurposeBytes),
            Number(chip.EepromBytes),
            Number(chip.DataMemory.BankCount),
            chip.Pins.IsEmpty ? "-" : Number(chip.Pins.Length),
            chip.IsOneTimeProgrammable ? "once only" : "erasable",
        ];

    private static string Number(int value) => value.ToString(CultureInfo.InvariantCulture);
}
