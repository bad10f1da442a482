using System.CommandLine;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Disassembly;
using AsmLsp.Host;
using AsmLsp.Rendering;

namespace AsmLsp.Verbs;

/// <summary><c>relist disassemble</c>: a HEX file back into a source that builds to the same words.</summary>
internal sealed class DisassembleVerb : IVerb
{
    /// <inheritdoc/>
    public IReadOnlyList<string> Examples { get; } =
    ["relist disassemble readout.hex --chip 16F84A", "relist disassemble readout.hex --chip 16F84A -o readout.asm"];

    /// <inheritdoc/>
    public Command Create()
    {
        var hex = new Argument<string>("FILE.hex") { Description = "The HEX file, such as a chip's read-out." };
        var device = new Option<string>("--chip")
        {
            Description = "The chip that the file is for. The file does not say it.",
            HelpName = "NAME",
            Required = true,
        };
        var outputPath = new Option<string>("-o", "--output")
        {
            Description = "Where the source goes; standard output unless given.",
            HelpName = "OUT.asm",
            DefaultValueFactory = _ => Sources.Standard,
        };
        Option<bool> lenient = HexInput.LenientOption();
        Option<bool> json = Sources.JsonOption();
        json.Description = "Write what the source cannot give back as JSON to standard output, for scripts. Needs -o.";
        var command = new Command(
            "disassemble",
            "Turn a HEX file into a source that builds to exactly the same words. Exit code 1: the file has words that no source for this chip can give; 2: the file could not be used."
        )
        {
            hex,
            device,
            outputPath,
            lenient,
            json,
        };
        command.SetAction(parsed =>
            Run(
                parsed.GetRequiredValue(hex),
                parsed.GetRequiredValue(device),
                parsed.GetRequiredValue(outputPath),
                parsed.GetValue(lenient),
                parsed.GetValue(json),
                parsed.InvocationConfiguration.Output,
                parsed.InvocationConfiguration.Error
            )
        );
        return command;
    }

    private static int Run(
        string hex,
        string chipName,
        string outputPath,
        bool isLenient,
        bool isJson,
        TextWriter output,
        TextWriter error
    )
    {
        if (!HexInput.TryChip(chipName, error, out Device? chip) || chip is not { } device)
            return ExitCodes.Unusable;
        if (Sources.Writes(new OutputCheck().Reads(hex), ("-o", outputPath)).Refusal is { } clash)
        {
            error.WriteLine($"relist: {clash}");
            return ExitCodes.Unusable;
        }

        if (isJson && outputPath == Sources.Standard)
        {
            error.WriteLine("relist: --json and the source would both go to standard output. Name a file with -o.");
            return ExitCodes.Unusable;
        }

        if (HexInput.Read(hex, error, isLenient) is not { } file)
            return ExitCodes.Unusable;
        DisassembledProgram made = Disassembler.Disassemble(
            file.Memory,
            device,
            $"{Path.GetFileName(hex)}, read as a program for {device.Name}"
        );
        foreach (DisassemblyDoubt doubt in made.Doubts)
            error.WriteLine($"{Sources.Shown(hex)}: warning: {doubt.Message}");
        if (!Sources.Write(outputPath, made.Text, output, error))
            return ExitCodes.Unusable;
        if (isJson)
            VisibleWriter.Data(output).Write(Json(device, outputPath, made));
        else if (outputPath != Sources.Standard)
            error.WriteLine($"Written: {Sources.Shown(outputPath)}");
        return made.Doubts.IsEmpty && !file.IsFaulty ? ExitCodes.Clean : ExitCodes.ProblemsRemain;
    }

    // docs/schemas/disassemble.json describes it.
    private static string Json(Device device, string path, DisassembledProgram made) =>
        JsonText.Write(json =>
        {
            json.WriteStartObject();
            json.WriteString("source", path);
            json.WriteString("chip", device.Name);
            json.WriteStartArray("doubts");
            foreach (DisassemblyDoubt doubt in made.Doubts)
            {
                json.WriteStartObject();
                json.WriteString("address", doubt.Address < 0 ? null : JsonText.Hex(doubt.Address));
                json.WriteString("message", doubt.Message);
                json.WriteEndObject();
            }

            json.WriteEndArray();
            json.WriteEndObject();
        });
}
