using System.CommandLine;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Hex;
using AsmLsp.Core.Readouts;
using AsmLsp.Rendering;

namespace AsmLsp.Verbs;

/// <summary><c>relist readout</c>: what a chip's read-out is, without anything to compare it with.</summary>
internal sealed class ReadoutVerb : IVerb
{
    /// <inheritdoc/>
    public IReadOnlyList<string> Examples { get; } =
    [
        "relist readout readout.hex --chip 16F84A",
        "relist readout readout.hex --chip 16F84A --checksum 4E51",
        "relist readout low.hex --high high.hex",
    ];

    /// <inheritdoc/>
    public Command Create()
    {
        var file = new Argument<string>("FILE.hex")
        {
            Description = "What was read from a chip; '-' is standard input.",
        };
        Option<string?> chip = Sources.ChipOption();
        chip.Description = "The chip that was in the socket (such as 16F84A).";
        var high = new Option<string?>("--high")
        {
            Description = "The file with the high bytes of the words, where FILE.hex holds the low bytes only.",
            HelpName = "FILE.hex",
        };
        Option<string?> checksum = HexInput.ChecksumOption();
        Option<bool> lenient = HexInput.LenientOption();
        Option<bool> json = Sources.JsonOption();
        var command = new Command(
            "readout",
            "Say what a read-out of a chip is: blank, protected, a program, or not what it should be.\n\nExit code 0: it can be used; 1: it does not show what is in the chip, or a checksum differs; 2: the file could not be used."
        )
        {
            file,
            chip,
            high,
            checksum,
            lenient,
            json,
        };
        command.SetAction(parsed =>
        {
            (TextWriter output, TextWriter error) = (
                parsed.InvocationConfiguration.Output,
                parsed.InvocationConfiguration.Error
            );
            string path = parsed.GetRequiredValue(file);
            bool isLenient = parsed.GetValue(lenient);
            if (
                !HexInput.TryChip(parsed.GetValue(chip), error, out Device? device)
                || HexInput.Read(path, error, isLenient) is not { } read
            )
                return ExitCodes.Unusable;
            (WordMemory memory, bool isFaulty) = (read.Memory, read.IsFaulty);
            if (parsed.GetValue(high) is { } upper)
            {
                if (HexInput.Read(upper, error, isLenient) is not { } above)
                    return ExitCodes.Unusable;
                memory = ReadoutHalves.Join(memory, above.Memory);
                isFaulty |= above.IsFaulty;
            }

            var content = ReadoutContent.Of(memory, device);
            if (!HexInput.TryChecksum(parsed.GetValue(checksum), content.Device, error, out int? typed))
                return ExitCodes.Unusable;
            bool matches = true;
            if (parsed.GetValue(json))
            {
                VisibleWriter.Data(output).Write(ReadoutJson.Of(content, typed));
                matches =
                    typed is null
                    || ChecksumMatch.CasesOf(content.Device!, memory).Any(c => c.IsSelected && c.Value == typed);
            }
            else
            {
                ReadoutReport.Write(output, content);
                if (content.Device is null)
                    error.WriteLine(
                        "Name the chip that was in the socket to see its configuration and its size: add --chip, such as --chip 16F84A."
                    );
                if (typed is { } value)
                    matches = ReadoutReport.WriteChecksum(
                        output,
                        value,
                        content.Device!,
                        memory,
                        Path.GetFileName(path)
                    );
            }

            return matches && !isFaulty && content.Verdict.Kind is (VerdictKind.Blank or VerdictKind.Program)
                ? ExitCodes.Clean
                : ExitCodes.ProblemsRemain;
        });
        return command;
    }
}
