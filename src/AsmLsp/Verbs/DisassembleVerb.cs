using System.CommandLine;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Disassembly;
using AsmLsp.Host;

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
            Description = "The chip that the file is for; it is not in the file.",
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
        var command = new Command(
            "disassemble",
            "Turn a HEX file into a source that builds to the very same words. Exit code 1: the file has words that no source for this chip can give."
        )
        {
            hex,
            device,
            outputPath,
            lenient,
        };
        command.SetAction(parsed =>
            Run(
                parsed.GetRequiredValue(hex),
                parsed.GetRequiredValue(device),
                parsed.GetRequiredValue(outputPath),
                parsed.GetValue(lenient),
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
        TextWriter output,
        TextWriter error
    )
    {
        if (DeviceCatalog.Find(chipName) is not { } device)
        {
            error.WriteLine($"relist: no chip called {chipName} is known here. 'relist chips' lists those that are.");
            return ExitCodes.Unusable;
        }

        if (Sources.Writes(new OutputCheck().Reads(hex), ("-o", outputPath)).Refusal is { } clash)
        {
            error.WriteLine($"relist: {clash}");
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
        return made.Doubts.IsEmpty && !file.IsFaulty ? ExitCodes.Clean : ExitCodes.ProblemsRemain;
    }
}
