using System.CommandLine;
using System.Text;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Repairs;
using AsmLsp.Core.Text;
using AsmLsp.Host;
using AsmLsp.Host.Building;
using AsmLsp.Rendering;

namespace AsmLsp;

/// <summary>What the verbs that read a source share: the options, loading (also from standard input), and its problems.</summary>
internal static class Sources
{
    /// <summary>The name that means standard input or output.</summary>
    public const string Standard = "-";

    public static Option<string?> ChipOption() =>
        new("--chip") { Description = "The chip, such as 16F84A, whatever the source says.", HelpName = "NAME" };

    public static Option<string[]> IncludeOption() =>
        new("--include")
        {
            Description = "A further folder to look for included files in. May be given more than once.",
            HelpName = "FOLDER",
        };

    public static Option<string?> ProjectOption() =>
        new("--project")
        {
            Description =
                "The project file. Without this option, a relist.json beside the source counts, or one above it up to the current folder.",
            HelpName = "relist.json",
        };

    /// <summary>Adds what options name to a check of outputs; '-' is standard output, null is nothing.</summary>
    public static OutputCheck Writes(OutputCheck check, params ReadOnlySpan<(string Option, string? Path)> outputs)
    {
        foreach ((string option, string? path) in outputs)
            if (path == Standard)
                check.WritesStandardOutput();
            else
                check.Writes(option, path);
        return check;
    }

    /// <summary>The check of a run that reads a source or a file, or standard input.</summary>
    public static OutputCheck Reading(string input) =>
        input == Standard ? new OutputCheck().ReadsStandardInput() : new OutputCheck().Reads(input);

    public static Option<string[]> DefineOption() =>
        new("--define")
        {
            Description = "A name to define before the first line, with a text if wanted. May be given more than once.",
            HelpName = "NAME[=TEXT]",
        };

    public static Option<bool> JsonOption() =>
        new("--json") { Description = "Write JSON to standard output, for scripts." };

    public static Option<bool> DryRunOption() => new("--dry-run") { Description = "Do everything but write files." };

    /// <summary>Loads a source, or several that make one program; says why where that fails, and gives null.</summary>
    public static DiskProgram? Load(string path, DiskRequest request, TextWriter error)
    {
        foreach (string define in request.Defines)
        {
            if (OutsideDefines.IsWellFormed(define))
                continue;
            error.WriteLine($"relist: --define takes NAME or NAME=TEXT; '{define}' is neither.");
            return null;
        }

        if (!HexInput.TryChip(request.Chip ?? request.Build?.Chip, error, out _))
            return null;

        if (request.ProjectFile is { } project && FileKinds.Of(project) != FileKind.Regular)
        {
            error.WriteLine($"relist: there is no project file {project}.");
            return null;
        }

        if (NotASource(path) is { } instead)
        {
            error.WriteLine($"relist: {instead}");
            return null;
        }

        DiskProgram? program = null;
        string? fault = null;
        if (path == Standard)
        {
            fault = StandardInput.Read(static _ => FileLoader.MaxLength, out byte[] bytes);
            if (fault is null)
            {
                var loader = new FileLoader();
                string name = Path.Combine(Environment.CurrentDirectory, "standard-input.asm");
                if (loader.Decode(name, bytes).TryGet(out LoadedFile? file, out LoadFailure? failure))
                    (program, failure) = DiskProgram.Of(file, loader, request);
                fault = failure?.Message;
            }
        }
        else
        {
            (program, LoadFailure? failure) = DiskProgram.Load(path, request);
            fault = failure?.Message;
        }

        if (fault is not null)
            error.WriteLine($"relist: {fault}");
        foreach (string note in program?.Notes ?? [])
            error.WriteLine($"relist: {note}");
        return program;
    }

    /// <summary>The problems of a program to show, those of the printed text included.</summary>
    public static IReadOnlyList<Problem> ProblemsOf(ProgramAnalysis program) => ReportOf(program).Shown;

    /// <summary>The same, with those that the author has switched off.</summary>
    public static ProblemReport ReportOf(ProgramAnalysis program)
    {
        ProblemReport[] files = [.. program.Files.Select(file => ProgramProblems.Report(program, file))];
        return new ProblemReport(
            [.. files.SelectMany(static f => f.Shown)],
            [.. files.SelectMany(static f => f.ByComment)],
            [.. files.SelectMany(static f => f.BySetting)]
        );
    }

    // The error that matters comes first: a document read as a source has an error in every line.
    private static string? NotASource(string path) =>
        !File.Exists(path)
            ? null
            : Path.GetExtension(path).ToLowerInvariant() switch
            {
                ".pdf" or ".docx" or ".odt" or ".rtf" or ".png" or ".jpg" or ".jpeg" or ".tif" or ".tiff" =>
                    $"{path} is a document, not a source. Recover its program first: relist recover {path} -o {Path.GetFileNameWithoutExtension(path)}.asm",
                ".hex" => $"{path} is a HEX file, not a source. See what it holds: relist readout {path}",
                _ => null,
            };

    /// <summary>A path as a person in the current folder reads it.</summary>
    public static string Shown(string path)
    {
        string relative = Path.GetRelativePath(Environment.CurrentDirectory, path);
        return relative.StartsWith("..", StringComparison.Ordinal) ? path : relative;
    }

    /// <summary>Writes a text to a file, or to standard output for "-"; says why where that fails.</summary>
    public static bool Write(string path, string text, TextWriter output, TextWriter error)
    {
        if (path == Standard)
        {
            VisibleWriter.Data(output).Write(text);
            return true;
        }

        if (AtomicWriter.Write(path, Encoding.UTF8.GetBytes(text)) is not { } fault)
            return true;
        error.WriteLine($"relist: {fault}");
        return false;
    }
}
