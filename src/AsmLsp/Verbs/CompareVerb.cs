using System.CommandLine;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Hex;
using AsmLsp.Core.Readouts;
using AsmLsp.Host;
using AsmLsp.Host.Building;
using AsmLsp.Host.Comparison;
using AsmLsp.Rendering;

namespace AsmLsp.Verbs;

/// <summary><c>relist compare</c>: two HEX files, or two sources of one listing, by what their differences mean.</summary>
internal sealed class CompareVerb : IVerb
{
    /// <inheritdoc/>
    public IReadOnlyList<string> Examples { get; } =
    [
        "relist compare built.hex readout.hex --source blinker.asm",
        "relist compare blinker.asm readout.hex --checksum 4E51",
        "relist compare typed.asm recovered.asm -o merged.asm",
    ];

    /// <inheritdoc/>
    public Command Create()
    {
        var first = new Argument<string>("A")
        {
            Description = "The build: a HEX file or a source. Or a source to compare line by line.",
        };
        var second = new Argument<string>("B")
        {
            Description = "The read-out of a chip: a HEX file. Or another source of the same listing.",
        };
        var source = new Option<string?>("--source")
        {
            Description = "The source of the first HEX file, to show the lines concerned.",
            HelpName = "FILE.asm",
        };
        var lines = new Option<bool>("--lines")
        {
            Description =
                "Compare two sources of one listing line by line, such as one typed and one recovered. Two names that end in .asm need no option.",
        };
        var merged = new Option<string?>("-o", "--output")
        {
            Description = "Of two sources: write one, the first, with ';?' and the other text wherever they differ.",
            HelpName = "OUT.asm",
        };
        var all = new Option<bool>("--all") { Description = "Show every word that differs, not the groups alone." };
        Option<string?> checksum = HexInput.ChecksumOption();
        Option<bool> lenient = HexInput.LenientOption();
        Option<bool> json = Sources.JsonOption();
        var command = new Command(
            "compare",
            "Say whether a read-out is what was built, and where it differs; or compare two sources of one listing line by line.\n\nExit code 0: both program the chip identically, or are the same program; 1: they differ; 2: one of them could not be used."
        )
        {
            first,
            second,
            source,
            lines,
            merged,
            all,
            checksum,
            lenient,
            json,
        };
        var options = new SourceOptions(command);
        command.SetAction(parsed =>
        {
            (string a, string b) = (parsed.GetRequiredValue(first), parsed.GetRequiredValue(second));
            (TextWriter output, TextWriter error) = (
                parsed.InvocationConfiguration.Output,
                parsed.InvocationConfiguration.Error
            );
            return parsed.GetValue(lines) || (HexInput.IsSource(a) && HexInput.IsSource(b))
                ? Lines(a, b, parsed.GetValue(merged), options.Read(parsed), parsed.GetValue(json), output, error)
                : Memories(
                    new MemoryOrder(
                        a,
                        b,
                        parsed.GetValue(source),
                        parsed.GetValue(merged),
                        options.Read(parsed),
                        parsed.GetValue(checksum),
                        parsed.GetValue(all),
                        parsed.GetValue(lenient),
                        parsed.GetValue(json)
                    ),
                    output,
                    error
                );
        });
        return command;
    }

    private static int Memories(MemoryOrder order, TextWriter output, TextWriter error)
    {
        if (order.Merged is not null)
        {
            error.WriteLine("relist: -o is for two sources. A read-out is compared, not merged.");
            return ExitCodes.Unusable;
        }

        if (HexInput.IsSource(order.Readout))
        {
            error.WriteLine("relist: name the build first, and the read-out after it.");
            return ExitCodes.Unusable;
        }

        ProgramAnalysis? program = null;
        if ((HexInput.IsSource(order.Build) ? order.Build : order.Source) is { } source)
        {
            program = HexInput.Build(source, order.Request, error);
            if (program is null)
                return ExitCodes.Unusable;
        }

        ReadHexFile? built = HexInput.IsSource(order.Build)
            ? new ReadHexFile(program!.Image.Memory, false)
            : HexInput.Read(order.Build, error, order.IsLenient);
        if (
            built is null
            || HexInput.Read(order.Readout, error, order.IsLenient) is not { } read
            || !HexInput.TryChip(order.Request.Chip, error, out Device? device)
        )
            return ExitCodes.Unusable;
        (WordMemory build, WordMemory readout) = (built.Memory, read.Memory);
        var comparison = ReadoutComparison.Of(build, readout, device, program);
        if (!HexInput.TryChecksum(order.Checksum, comparison.Device, error, out int? typed))
            return ExitCodes.Unusable;
        (string Build, string Readout) names = Names(order.Build, order.Readout);
        bool matches = true;
        if (order.IsJson)
        {
            VisibleWriter.Data(output).Write(ReadoutJson.Of(comparison, program, typed));
            matches =
                typed is null
                || ChecksumMatch.CasesOf(comparison.Device!, build).Any(c => c.IsSelected && c.Value == typed);
        }
        else
        {
            ReadoutReport.Write(output, comparison, names, program, order.ShowsAll, Sources.Shown);
            if (typed is { } value)
            {
                matches = ReadoutReport.WriteChecksum(output, value, comparison.Device!, build, names.Build);
                if (!matches)
                    ReadoutReport.WriteChecksum(output, value, comparison.Device!, readout, names.Readout);
            }
        }

        return comparison.IsSame && matches && !built.IsFaulty && !read.IsFaulty
            ? ExitCodes.Clean
            : ExitCodes.ProblemsRemain;
    }

    private static int Lines(
        string first,
        string second,
        string? merged,
        DiskRequest request,
        bool isJson,
        TextWriter output,
        TextWriter error
    )
    {
        if (Sources.Load(first, request, error) is not { } a || Sources.Load(second, request, error) is not { } b)
            return ExitCodes.Unusable;
        ProgramAnalysis firstProgram = a.Assemble(),
            secondProgram = b.Assemble();
        var comparison = SourceComparison.Of(firstProgram, secondProgram);
        foreach (
            (bool has, string file) in ((bool, string)[])
                [(comparison.HasProgram.First, first), (comparison.HasProgram.Second, second)]
        )
        {
            if (has)
                continue;
            error.WriteLine(
                $"relist: {file} has no line of a program. Recover it first: relist recover {file} -o OUT.asm"
            );
            return ExitCodes.Unusable;
        }

        OutputCheck check = Sources.Reading(first).Reads(a.Inputs(firstProgram)).Reads(b.Inputs(secondProgram));
        if (isJson && merged == Sources.Standard)
        {
            error.WriteLine(
                "relist: --json and the merged source would both go to standard output. Name a file with -o."
            );
            return ExitCodes.Unusable;
        }

        if (Sources.Writes(check, ("-o", merged)).Refusal is { } clash)
        {
            error.WriteLine($"relist: {clash}");
            return ExitCodes.Unusable;
        }

        (string firstName, string secondName) = Names(first, second);
        // The merged reading may be the result on standard output: then what there is to say is about the work.
        if (isJson)
            VisibleWriter.Data(output).Write(SourceComparisonJson.Of(comparison, firstName, secondName));
        else
            SourceComparisonText.Write(merged == Sources.Standard ? error : output, comparison, firstName, secondName);
        if (
            merged is not null
            && !Sources.Write(merged, MergedSource.Of(comparison, firstName, secondName), output, error)
        )
            return ExitCodes.Unusable;
        return comparison.IsSame ? ExitCodes.Clean : ExitCodes.ProblemsRemain;
    }

    // File names alone where they distinguish the two.
    private static (string First, string Second) Names(string first, string second) =>
        Path.GetFileName(first) != Path.GetFileName(second)
            ? (Path.GetFileName(first), Path.GetFileName(second))
            : (first, second);

    private sealed record MemoryOrder(
        string Build,
        string Readout,
        string? Source,
        string? Merged,
        DiskRequest Request,
        string? Checksum,
        bool ShowsAll,
        bool IsLenient,
        bool IsJson
    );
}
