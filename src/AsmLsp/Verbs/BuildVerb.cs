using System.CommandLine;
using System.Globalization;
using System.Text;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Hex;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Problems;
using AsmLsp.Host;
using AsmLsp.Host.Building;
using AsmLsp.Rendering;

namespace AsmLsp.Verbs;

/// <summary><c>relist build</c>: a source into its HEX file.</summary>
internal sealed class BuildVerb : IVerb
{
    /// <inheritdoc/>
    public IReadOnlyList<string> Examples { get; } =
    [
        "relist build blinker.asm",
        "relist build blinker.asm -o /tmp/blinker.hex --chip 16F84A",
        "relist build blinker.asm --against printed.hex",
    ];

    /// <inheritdoc/>
    public Command Create()
    {
        var source = new Argument<string>("FILE") { Description = "The source; '-' reads standard input." };
        var outputPath = new Option<string?>("-o", "--output")
        {
            Description = "Where the HEX goes; beside the source unless given; '-' is standard output.",
            HelpName = "OUT.hex",
        };
        Option<string?> device = Sources.ChipOption();
        Option<string[]> includes = Sources.IncludeOption();
        Option<string?> project = Sources.ProjectOption();
        var map = new Option<string?>("--map")
        {
            Description = "Also write every word with its address and source line to this file.",
            HelpName = "FILE",
        };
        var against = new Option<string?>("--against")
        {
            Description = "Compare the result, word by word, with this HEX file.",
            HelpName = "PUBLISHED.hex",
        };
        var strict = new Option<bool>("--strict") { Description = "Write no HEX while a doubt is open." };
        var command = new Command(
            "build",
            "Build a source into a HEX file. Nothing is written while there is an error; an old HEX stays as it was then. A HEX beside the source that is not from relist is kept as NAME.before.hex."
        )
        {
            source,
            outputPath,
            device,
            includes,
            project,
            map,
            against,
            strict,
        };
        command.SetAction(parsed =>
            Run(
                parsed.GetRequiredValue(source),
                parsed.GetValue(outputPath),
                parsed.GetValue(device),
                parsed.GetValue(includes),
                parsed.GetValue(project),
                parsed.GetValue(map),
                parsed.GetValue(against),
                parsed.GetValue(strict),
                parsed.InvocationConfiguration.Output,
                parsed.InvocationConfiguration.Error
            )
        );
        return command;
    }

    private static int Run(
        string source,
        string? outputPath,
        string? device,
        string[]? includes,
        string? project,
        string? map,
        string? against,
        bool strict,
        TextWriter output,
        TextWriter error
    )
    {
        HexReading? published = null;
        if (against is not null && !TryReadHex(against, error, out published))
            return ExitCodes.Unusable;
        if (Sources.Load(source, device, includes, error, project) is not { } disk)
            return ExitCodes.Unusable;
        ProgramAnalysis program = disk.Assemble();
        foreach (string includeNote in disk.IncludeNotes)
            error.WriteLine($"relist: {includeNote}");
        IReadOnlyList<Problem> problems = Sources.ProblemsOf(program);
        ProblemText.Write(error, problems.Where(p => p.Severity != Severity.Information), Sources.Shown);

        HexPlace place =
            outputPath is not null ? HexPlace.Named(outputPath)
            : source == Sources.Standard
                ? new HexPlace(Path.GetFullPath("standard-input.hex"), HexPlaceKind.Beside, disk.Bounds)
            : HexPlace.Of(Path.GetFullPath(source), disk.Project, disk.ProjectFolder, disk.Bounds);
        OutputCheck check = Sources.Reading(source).Reads(disk.Inputs(program));
        if (against is not null)
            check.Reads(against);
        if (
            Sources.Writes(check, (outputPath is null ? "the HEX file" : "-o", place.Path), ("--map", map)).Refusal is
            { } clash
        )
        {
            error.WriteLine($"relist: {clash}");
            return ExitCodes.Unusable;
        }

        BuildResult result;
        if (outputPath == Sources.Standard)
        {
            BuildSummary summary = ProgramBuilder.Summarize(program, problems);
            bool refused = summary.Errors > 0 || (strict && summary.Doubts > 0);
            if (!refused)
                VisibleWriter.Data(output).Write(IntelHexWriter.Write(program.Image.Memory));
            result = new BuildResult(
                refused ? null : Sources.Standard,
                summary,
                refused ? "No HEX is written: the problems above must be settled first." : null
            );
        }
        else
        {
            result = ProgramBuilder.Build(program, problems, place, strict);
        }

        error.WriteLine(BuildSummaryText.Heading(program, result));
        if (result.Refusal is { } refusal)
        {
            error.WriteLine($"relist: {refusal}");
            return ExitCodes.ProblemsRemain;
        }

        BuildSummaryText.WriteConfiguration(error, program);
        if (result.HexPath is { } written && written != Sources.Standard)
            error.WriteLine($"Written: {Sources.Shown(written)}");
        if (result.KeptNote is { } note)
            error.WriteLine($"relist: {note}");
        if (map is not null && !Sources.Write(map, MapText.Of(program, Sources.Shown), output, error))
            return ExitCodes.Unusable;
        if (published is null)
            return ExitCodes.Clean;
        return ComparisonText.Write(
            output,
            program.Image.Memory,
            published.Memory,
            "this build",
            Path.GetFileName(against)!,
            program,
            Sources.Shown
        )
            ? ExitCodes.Clean
            : ExitCodes.ProblemsRemain;
    }

    /// <summary>Reads a HEX file; tells its faults, and gives false where it cannot be used.</summary>
    internal static bool TryReadHex(string path, TextWriter error, out HexReading? reading)
    {
        reading = null;
        if (FileLoader.ReadBytes(path, out byte[] bytes) is { } failure)
        {
            error.WriteLine($"relist: {failure.Message}");
            return false;
        }

        reading = IntelHexReader.Read(Encoding.Latin1.GetString(bytes));
        foreach (HexFault fault in reading.Faults)
            error.WriteLine(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{Sources.Shown(path)}:{fault.Line}:{fault.Column}: {(fault.IsFatal ? "error" : "information")}: {fault.Message}"
                )
            );
        return reading.IsUsable;
    }
}
