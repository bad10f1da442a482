using System.CommandLine;
using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Text;
using AsmLsp.Host.Archive;
using AsmLsp.Host.Building;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.Rendering;

namespace AsmLsp.Verbs;

/// <summary><c>relist check</c>: the problems of sources.</summary>
internal sealed class CheckVerb : IVerb
{
    /// <inheritdoc/>
    public IReadOnlyList<string> Examples { get; } =
    ["relist check blinker.asm", "relist check *.asm --json", "relist check kit-archive"];

    /// <inheritdoc/>
    public Command Create()
    {
        var files = new Argument<string[]>("FILE")
        {
            Description = "Sources, or folders made by 'recover --archive'. '-' reads standard input.",
            Arity = ArgumentArity.OneOrMore,
        };
        Option<bool> json = Sources.JsonOption();
        var sarif = new Option<bool>("--sarif") { Description = "Write SARIF 2.1.0 to standard output, for scripts." };
        // Scripts for batches of sources were written with this name; it is not offered.
        var format = new Option<string?>("--format") { Hidden = true };
        var command = new Command(
            "check",
            "Show the problems of sources. Exit code 0: nothing that a person must look at; 1: errors, warnings or doubts; 2: a file could not be used."
        )
        {
            files,
            json,
            sarif,
            format,
        };
        var options = new SourceOptions(command);
        command.SetAction(parsed =>
            Run(
                parsed.GetRequiredValue(files),
                parsed.GetValue(sarif) ? "sarif"
                    : parsed.GetValue(json) ? "json"
                    : parsed.GetValue(format) ?? "text",
                options.Read(parsed),
                parsed.InvocationConfiguration.Output,
                parsed.InvocationConfiguration.Error
            )
        );
        return command;
    }

    private static int Run(string[] files, string format, DiskRequest request, TextWriter output, TextWriter error)
    {
        var problems = new List<Problem>();
        var reports = new List<ProblemReport>();
        // Sources of a program that was checked already, as part of it.
        var done = new HashSet<string>(StringComparer.Ordinal);
        bool unusable = false,
            remains = false,
            hasSources = false;
        foreach (string file in files)
        {
            if (ArchiveCheck.IsArchive(file))
            {
                ArchiveVerdict verdict = CheckArchive(file, error);
                unusable |= verdict.Failure is not null;
                remains |=
                    verdict.Faults.Count > 0
                    || verdict.OpenDoubts > 0
                    || verdict.Boards.Values.Any(static same => !same);
                continue;
            }

            hasSources = true;
            if (done.Contains(Path.GetFullPath(file)))
                continue;
            if (Sources.Load(file, request with { Others = LinkedSources.With(file, files) }, error) is not { } disk)
            {
                unusable = true;
                continue;
            }

            foreach (SourceFile source in disk.Roots)
                done.Add(source.Name);
            ProgramAnalysis program = disk.Assemble();
            foreach (string note in disk.IncludeNotes)
                error.WriteLine($"relist: {note}");
            ProblemReport report = Sources.ReportOf(program);
            reports.Add(report);
            problems.AddRange(report.Shown);
        }

        switch (format)
        {
            case "json":
                VisibleWriter.Data(output).Write(ProblemJson.Plain(problems));
                break;
            case "sarif":
                VisibleWriter.Data(output).Write(ProblemJson.Sarif(problems, Sources.Shown, ServerVersion.Text));
                break;
            default:
                ProblemText.Write(output, problems, Sources.Shown);
                // What could not be read has no problems that are known: 'no problems' would be wrong.
                if (hasSources && !(unusable && problems.Count == 0))
                    error.WriteLine(ProblemText.Count(problems));
                break;
        }

        if (ProblemText.Ignored(reports) is { } ignored)
            error.WriteLine(ignored);
        if (unusable)
            return ExitCodes.Unusable;
        return remains || problems.Exists(p => p.Severity != Severity.Information)
            ? ExitCodes.ProblemsRemain
            : ExitCodes.Clean;
    }

    private static ArchiveVerdict CheckArchive(string folder, TextWriter error)
    {
        ArchiveVerdict verdict = ArchiveCheck.Of(folder);
        if (verdict.Failure is { } failure)
            error.WriteLine($"relist: {failure}");
        foreach (string fault in verdict.Faults)
            error.WriteLine($"{folder}: error: {fault}");
        string state = verdict.Faults.Count > 0 ? "" : "; source.asm builds to the same source.hex";
        if (verdict.Failure is null)
            error.WriteLine(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{folder}: {verdict.Files} files are unchanged{state}; {verdict.OpenDoubts} open {(verdict.OpenDoubts == 1 ? "doubt" : "doubts")}"
                )
            );
        int differing = verdict.Boards.Values.Count(static same => !same);
        if (verdict.Boards.Count > 0)
            error.WriteLine(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{folder}: {verdict.Boards.Count - differing} of {verdict.Boards.Count} boards hold source.hex{(differing == 0 ? "" : $"; not: {string.Join(", ", verdict.Boards.Where(static b => !b.Value).Select(static b => b.Key))}")}"
                )
            );
        return verdict;
    }
}
