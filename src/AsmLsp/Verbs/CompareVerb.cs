using System.CommandLine;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Hex;
using AsmLsp.Host;
using AsmLsp.Host.Building;
using AsmLsp.Host.Readings;
using AsmLsp.Rendering;

namespace AsmLsp.Verbs;

/// <summary><c>relist compare</c>: two HEX files, or two readings of one listing, by what their differences mean.</summary>
internal sealed class CompareVerb : IVerb
{
    /// <inheritdoc/>
    public IReadOnlyList<string> Examples { get; } =
    [
        "relist compare built.hex readout.hex --source blinker.asm",
        "relist compare --readings typed.asm recovered.asm -o merged.asm",
    ];

    /// <inheritdoc/>
    public Command Create()
    {
        var first = new Argument<string>("A")
        {
            Description = "One HEX file, such as the one that was built; or one reading of a listing.",
        };
        var second = new Argument<string>("B")
        {
            Description = "The other, such as a chip's read-out; or the other reading.",
        };
        var source = new Option<string?>("--source")
        {
            Description = "The source of the first HEX file, to show the lines concerned.",
            HelpName = "FILE.asm",
        };
        var readings = new Option<bool>("--readings")
        {
            Description =
                "Compare two sources that were read from the same listing, such as one typed and one recovered: what both agree on can be trusted.",
        };
        var merged = new Option<string?>("-o", "--output")
        {
            Description =
                "Of two readings, write one: the first, with ';?' and the other reading wherever they differ.",
            HelpName = "OUT.asm",
        };
        Option<string?> device = Sources.ChipOption();
        var command = new Command(
            "compare",
            "Compare two HEX files word by word, by what each difference means, or two readings of one listing line by line.\n\nExit code 0: both make the same chip, or are the same program; 1: they differ; 2: one of them is of no use."
        )
        {
            first,
            second,
            source,
            readings,
            merged,
            device,
        };
        command.SetAction(parsed =>
        {
            (string a, string b) = (parsed.GetRequiredValue(first), parsed.GetRequiredValue(second));
            (TextWriter output, TextWriter error) = (
                parsed.InvocationConfiguration.Output,
                parsed.InvocationConfiguration.Error
            );
            return parsed.GetValue(readings)
                ? Readings(a, b, parsed.GetValue(merged), parsed.GetValue(device), output, error)
                : Memories(
                    a,
                    b,
                    parsed.GetValue(source),
                    parsed.GetValue(merged),
                    parsed.GetValue(device),
                    output,
                    error
                );
        });
        return command;
    }

    private static int Memories(
        string first,
        string second,
        string? source,
        string? merged,
        string? device,
        TextWriter output,
        TextWriter error
    )
    {
        if (merged is not null)
        {
            error.WriteLine("relist: -o goes with --readings: two HEX files are compared, not merged.");
            return ExitCodes.Unusable;
        }

        if (IsSource(first) && IsSource(second))
        {
            error.WriteLine(
                "relist: these are sources, not HEX files. Two readings of one listing are compared with --readings."
            );
            return ExitCodes.Unusable;
        }

        if (
            !BuildVerb.TryReadHex(first, error, out HexReading? a)
            || !BuildVerb.TryReadHex(second, error, out HexReading? b)
        )
            return ExitCodes.Unusable;
        ProgramAnalysis? program = null;
        if (source is not null)
        {
            if (Sources.Load(source, device, null, error) is not { } disk)
                return ExitCodes.Unusable;
            program = disk.Assemble();
        }

        return ComparisonText.Write(
            output,
            a!.Memory,
            b!.Memory,
            Path.GetFileName(first),
            Path.GetFileName(second),
            program,
            Sources.Shown
        )
            ? ExitCodes.Clean
            : ExitCodes.ProblemsRemain;
    }

    private static int Readings(
        string first,
        string second,
        string? merged,
        string? device,
        TextWriter output,
        TextWriter error
    )
    {
        if (
            Sources.Load(first, device, null, error) is not { } a
            || Sources.Load(second, device, null, error) is not { } b
        )
            return ExitCodes.Unusable;
        ProgramAnalysis firstProgram = a.Assemble(),
            secondProgram = b.Assemble();
        var comparison = ReadingComparison.Of(firstProgram, secondProgram);
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
        if (Sources.Writes(check, ("-o", merged)).Refusal is { } clash)
        {
            error.WriteLine($"relist: {clash}");
            return ExitCodes.Unusable;
        }

        (string firstName, string secondName) = Names(first, second);
        // The merged reading may be the result on standard output: then what there is to say is about the work.
        ReadingsText.Write(merged == Sources.Standard ? error : output, comparison, firstName, secondName);
        if (
            merged is not null
            && !Sources.Write(merged, MergedReading.Of(comparison, firstName, secondName), output, error)
        )
            return ExitCodes.Unusable;
        return comparison.IsSame ? ExitCodes.Clean : ExitCodes.ProblemsRemain;
    }

    private static bool IsSource(string path) =>
        Path.GetExtension(path).ToLowerInvariant() is ".asm" or ".src" or ".inc";

    // File names alone where they tell the two apart.
    private static (string First, string Second) Names(string first, string second) =>
        Path.GetFileName(first) != Path.GetFileName(second)
            ? (Path.GetFileName(first), Path.GetFileName(second))
            : (first, second);
}
