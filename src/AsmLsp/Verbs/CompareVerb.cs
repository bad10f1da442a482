using System.CommandLine;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Hex;
using AsmLsp.Host.Building;
using AsmLsp.Rendering;

namespace AsmLsp.Verbs;

/// <summary><c>relist compare</c>: two HEX files, by what their differences mean.</summary>
internal sealed class CompareVerb : IVerb
{
    /// <inheritdoc/>
    public IReadOnlyList<string> Examples { get; } = ["relist compare built.hex readout.hex --source blinker.asm"];

    /// <inheritdoc/>
    public Command Create()
    {
        var first = new Argument<string>("A.hex") { Description = "One HEX file, such as the one that was built." };
        var second = new Argument<string>("B.hex") { Description = "The other, such as a chip's read-out." };
        var source = new Option<string?>("--source") { Description = "The source of the first file, to show the lines concerned.", HelpName = "FILE.asm" };
        Option<string?> device = Sources.DeviceOption();
        var command = new Command("compare", "Compare two HEX files word by word, by what each difference means. Exit code 0: both make the same chip.")
        {
            first, second, source, device,
        };
        command.SetAction(parsed => Run(parsed.GetRequiredValue(first), parsed.GetRequiredValue(second), parsed.GetValue(source), parsed.GetValue(device),
            parsed.InvocationConfiguration.Output, parsed.InvocationConfiguration.Error));
        return command;
    }

    private static int Run(string first, string second, string? source, string? device, TextWriter output, TextWriter error)
    {
        if (!BuildVerb.TryReadHex(first, error, out HexReading? a) || !BuildVerb.TryReadHex(second, error, out HexReading? b)) return ExitCodes.Unusable;
        ProgramAnalysis? program = null;
        if (source is not null)
        {
            if (Sources.Load(source, device, null, error) is not { } disk) return ExitCodes.Unusable;
            program = disk.Assemble();
        }

        return ComparisonText.Write(output, a!.Memory, b!.Memory, Path.GetFileName(first), Path.GetFileName(second), program, Sources.Shown) ? ExitCodes.Clean : ExitCodes.ProblemsRemain;
    }
}
