using System.CommandLine;
using System.Globalization;
using System.Text.Json;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Hex;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Readouts;
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
        "relist build main.asm display.asm keys.asm",
        "relist build main.asm --define LCD --define BAUD=9600",
        "relist build --all",
    ];

    /// <inheritdoc/>
    public Command Create()
    {
        var source = new Argument<string[]>("FILE")
        {
            Description =
                "The source, or all sources of one program. '-' reads standard input. Without it, relist.json names them.",
            Arity = ArgumentArity.ZeroOrMore,
        };
        var outputPath = new Option<string?>("-o", "--output")
        {
            Description = "Where the HEX goes: beside the source unless given. '-' is standard output.",
            HelpName = "OUT.hex",
        };
        var words = new Option<string?>("--words")
        {
            Description = "Also write every word with its address and source line to this file.",
            HelpName = "FILE",
        };
        var against = new Option<string?>("--against")
        {
            Description = "Compare the result, word by word, with this HEX file.",
            HelpName = "PUBLISHED.hex",
        };
        var noOpenDoubts = new Option<bool>("--no-open-doubts") { Description = "Write no HEX while a doubt is open." };
        var acceptDoubts = new Option<bool>("--accept-doubts")
        {
            Description = "Write the HEX in spite of open doubts, even for a chip that can be programmed only once.",
        };
        Option<bool> dryRun = Sources.DryRunOption();
        dryRun.Description = "Build and report, but write no file.";
        Option<bool> json = Sources.JsonOption();
        var all = new Option<bool>("--all") { Description = "Make every build that relist.json names." };
        var named = new Option<string?>("--build")
        {
            Description = "Make this build of those that relist.json names.",
            HelpName = "NAME",
        };
        var command = new Command(
            "build",
            "Build a source into a HEX file. While there is an error nothing is written, and an old HEX stays as it was. A HEX that is not from relist is kept as NAME.before.hex.\n\nExit code 0: the HEX is written; 1: errors or doubts prevent it, or the words differ from --against; 2: a file could not be used."
        )
        {
            source,
            outputPath,
            words,
            against,
            noOpenDoubts,
            acceptDoubts,
            dryRun,
            json,
            named,
            all,
        };
        var options = new SourceOptions(command);
        command.SetAction(parsed =>
        {
            (TextWriter output, TextWriter error) = (
                parsed.InvocationConfiguration.Output,
                parsed.InvocationConfiguration.Error
            );
            var order = new BuildOrder
            {
                Files = parsed.GetValue(source) ?? [],
                Output = parsed.GetValue(outputPath),
                Request = options.Read(parsed),
                Words = parsed.GetValue(words),
                Against = parsed.GetValue(against),
                RefuseDoubts = parsed.GetValue(noOpenDoubts),
                AcceptDoubts = parsed.GetValue(acceptDoubts),
                IsDryRun = parsed.GetValue(dryRun),
                Reports = parsed.GetValue(json) ? [] : null,
            };
            if (order.Reports is not null && (order.Output == Sources.Standard || order.Words == Sources.Standard))
            {
                error.WriteLine("relist: --json writes to standard output. Name a file for everything else.");
                return ExitCodes.Unusable;
            }

            int code = Run(order, parsed.GetValue(named), parsed.GetValue(all), output, error);
            if (order.Reports is { Count: > 0 } reports)
                VisibleWriter.Data(output).Write(BuildJson.Of(reports));
            return code;
        });
        return command;
    }

    private static int Run(BuildOrder order, string? named, bool all, TextWriter output, TextWriter error)
    {
        if (!all && named is null && order.Files.Length > 0)
            return Make(order, output, error);
        string folder =
            order.Files.Length > 0
                ? Path.GetDirectoryName(Path.GetFullPath(order.Files[0]))!
                : Environment.CurrentDirectory;
        var notes = new List<string>();
        (WorkspaceFile project, string? path) = DiskProgram.FindProject(
            new FileLoader(),
            folder,
            order.Request.ProjectFile,
            notes
        );
        string? home = path is null ? null : Path.GetDirectoryName(path);
        IReadOnlyList<NamedBuild> builds = project.Builds;
        if (named is not null)
            builds = [.. builds.Where(b => b.Name.Equals(named, StringComparison.OrdinalIgnoreCase))];
        else if (!all)
            builds = [new NamedBuild("")];
        if (home is null || builds.Count == 0)
        {
            error.WriteLine(
                home is null
                    ? "relist: name a source to build. Without one, relist.json must name it, and there is no relist.json here."
                : project.Builds.IsEmpty ? "relist: relist.json names no builds."
                : $"relist: relist.json names no build called {named}. It names {string.Join(", ", project.Builds.Select(b => b.Name))}."
            );
            return ExitCodes.Unusable;
        }

        int worst = ExitCodes.Clean;
        foreach (NamedBuild build in builds)
        {
            string? first =
                order.Files.FirstOrDefault()
                ?? build
                    .Files.Concat(build.Root is { } root ? [root] : [])
                    .Select(f => Path.GetFullPath(f, home))
                    .FirstOrDefault()
                ?? project
                    .Files.Concat(project.Root is { } usual ? [usual] : [])
                    .Select(f => Path.GetFullPath(f, home))
                    .FirstOrDefault();
            if (first is null)
            {
                error.WriteLine("relist: relist.json names no source: add 'root' or 'files', or name the source here.");
                return ExitCodes.Unusable;
            }

            if (build.Name.Length > 0)
                error.WriteLine($"Build {build.Name}:");
            int code = Make(
                order with
                {
                    Files = order.Files.Length > 0 ? order.Files : [first],
                    Build = build,
                },
                output,
                error
            );
            worst = Math.Max(worst, code);
        }

        return worst;
    }

    private static int Make(BuildOrder order, TextWriter output, TextWriter error)
    {
        ReadHexFile? published = null;
        if (order.Against is { } against && (published = HexInput.Read(against, error)) is null)
            return ExitCodes.Unusable;
        string source = order.Files[0];
        DiskRequest request = order.Request with { Others = order.Files[1..], Build = order.Build };
        if (Sources.Load(source, request, error) is not { } disk)
            return ExitCodes.Unusable;
        ProgramAnalysis program = disk.Assemble();
        foreach (string includeNote in disk.IncludeNotes)
            error.WriteLine($"relist: {includeNote}");
        IReadOnlyList<Problem> problems = Sources.ProblemsOf(program);
        // With JSON, all that is known is in there.
        TextWriter screen = order.Reports is null ? error : TextWriter.Null;
        HexPlace place =
            order.Output is not null ? HexPlace.Named(order.Output)
            : source == Sources.Standard
                ? new HexPlace(Path.GetFullPath("standard-input.hex"), HexPlaceKind.Beside, disk.Bounds)
            : order.Build is { Name.Length: > 0 } build && disk.ProjectFolder is { } home
                ? PlaceOf(build, home, disk.Bounds)
            : HexPlace.Of(Path.GetFullPath(source), disk.Project, disk.ProjectFolder, disk.Bounds);
        OutputCheck check = Sources.Reading(source).Reads(disk.Inputs(program));
        if (order.Against is not null)
            check.Reads(order.Against);
        if (
            Sources
                .Writes(check, (order.Output is null ? "the HEX file" : "-o", place.Path), ("--words", order.Words))
                .Refusal is
            { } clash
        )
        {
            error.WriteLine($"relist: {clash}");
            return ExitCodes.Unusable;
        }

        BuildResult result;
        if (order.Output == Sources.Standard || order.IsDryRun)
        {
            BuildSummary summary = ProgramBuilder.Summarize(program, problems);
            string at = order.IsDryRun ? place.Path : Sources.Standard;
            string? refused = ProgramBuilder.Refusal(summary, at, order.RefuseDoubts, order.AcceptDoubts);
            if (refused is null && !order.IsDryRun)
                VisibleWriter.Data(output).Write(IntelHexWriter.Write(program.Image.Memory));
            result = new BuildResult(refused is null && !order.IsDryRun ? Sources.Standard : null, summary, refused);
        }
        else
        {
            result = ProgramBuilder.Build(program, problems, place, order.RefuseDoubts, order.AcceptDoubts);
        }

        bool isWanted = result.Refusal is null && published is not null;
        ReadoutComparison? comparison = isWanted
            ? ReadoutComparison.Of(program.Image.Memory, published!.Memory, program.Device, program)
            : null;
        order.Reports?.Add(json =>
            BuildJson.Write(
                json,
                order.Build?.Name is { Length: > 0 } name ? name : null,
                program,
                problems,
                result,
                comparison?.IsSame
            )
        );
        if (result.Refusal is { } refusal)
        {
            // What is in the way comes first, and the details after it.
            screen.WriteLine($"relist: {refusal}");
            ProblemText.Write(screen, problems.Where(IsShown), Sources.Shown);
            screen.WriteLine(BuildSummaryText.Heading(program, result));
            return ExitCodes.ProblemsRemain;
        }

        ProblemText.Write(screen, problems.Where(IsShown), Sources.Shown);
        screen.WriteLine(BuildSummaryText.Heading(program, result));
        BuildSummaryText.WriteConfiguration(screen, program);
        if (result.HexPath is { } written && written != Sources.Standard)
        {
            screen.WriteLine($"Written: {Sources.Shown(written)}");
            screen.WriteLine("Before you program a chip, read the cautions: relist explain safety");
        }

        if (order.IsDryRun)
            screen.WriteLine(
                $"Dry run: nothing is written. Without --dry-run the HEX goes to {Sources.Shown(place.Path)}."
            );
        if (result.KeptNote is { } note)
            screen.WriteLine($"relist: {note}");
        if (
            order.Words is { } list
            && !order.IsDryRun
            && !Sources.Write(list, WordListText.Of(program, Sources.Shown), output, error)
        )
            return ExitCodes.Unusable;
        if (comparison is null)
            return ExitCodes.Clean;
        if (order.Reports is null)
            ReadoutReport.Write(
                output,
                comparison,
                ("this build", Path.GetFileName(order.Against)!),
                program,
                showAll: false,
                Sources.Shown
            );
        return comparison.IsSame ? ExitCodes.Clean : ExitCodes.ProblemsRemain;
    }

    // Notes are for 'check', but where the words come from another file than the line says belongs to the build.
    private static bool IsShown(Problem problem) =>
        problem.Severity != Severity.Information || problem.Kind == Catalogue.IncludeElsewhere;

    // A named build without an output of its own goes beside the project file, under its name.
    private static HexPlace PlaceOf(NamedBuild build, string home, WorkspaceBounds bounds) =>
        build.Output is { } output
            ? new HexPlace(Path.GetFullPath(output, home), HexPlaceKind.Configured, bounds)
            : new HexPlace(Path.Combine(home, build.Name + ".hex"), HexPlaceKind.Beside, bounds);

    /// <summary>What the command line asks for.</summary>
    private sealed record BuildOrder
    {
        public string[] Files { get; init; } = [];

        public string? Output { get; init; }

        public DiskRequest Request { get; init; } = new();

        public string? Words { get; init; }

        public string? Against { get; init; }

        public bool RefuseDoubts { get; init; }

        public bool AcceptDoubts { get; init; }

        public bool IsDryRun { get; init; }

        /// <summary>Where reports for scripts are gathered; null where people read.</summary>
        public List<Action<Utf8JsonWriter>>? Reports { get; init; }

        public NamedBuild? Build { get; init; }
    }
}
