using System.CommandLine;
using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Replacement;
using AsmLsp.Host;
using AsmLsp.Host.Building;
using AsmLsp.Rendering;

namespace AsmLsp.Verbs;

/// <summary><c>relist replace</c>: what a program needs to run on another chip, done as far as it can be proved.</summary>
internal sealed class ReplaceVerb : IVerb
{
    /// <inheritdoc/>
    public IReadOnlyList<string> Examples { get; } =
    ["relist replace kit.asm --chip 16F628A", "relist replace kit.asm --chip 16F628A -o kit-628.asm"];

    /// <inheritdoc/>
    public Command Create()
    {
        var file = new Argument<string>("FILE.asm")
        {
            Description = "The source, which names the chip that it is for.",
        };
        var chip = new Option<string>("--chip")
        {
            Description = "The chip that takes its place.",
            HelpName = "NAME",
            Required = true,
        };
        var output = new Option<string?>("-o", "--output")
        {
            Description = "Write the new source to this file; without it only the changes are shown.",
            HelpName = "NEW.asm",
        };
        Option<string[]> includes = Sources.IncludeOption();
        Option<string?> project = Sources.ProjectOption();
        Option<string[]> define = Sources.DefineOption();
        var json = new Option<bool>("--json") { Description = "Write JSON, for scripts." };
        var command = new Command(
            "replace",
            "Put a program onto another chip. Memory, registers, banks, configuration and pins are changed and proven; what you must decide is marked.\n\nExit code 0: nothing is left to decide; 1: something is, and its lines are marked; 2: the source could not be used."
        )
        {
            file,
            chip,
            output,
            includes,
            project,
            define,
            json,
        };
        command.SetAction(parsed =>
            Run(
                parsed.GetRequiredValue(file),
                parsed.GetRequiredValue(chip),
                parsed.GetValue(output),
                new DiskRequest
                {
                    IncludeFolders = parsed.GetValue(includes) ?? [],
                    ProjectFile = parsed.GetValue(project),
                    Defines = parsed.GetValue(define) ?? [],
                },
                parsed.GetValue(json),
                parsed.InvocationConfiguration.Output,
                parsed.InvocationConfiguration.Error
            )
        );
        return command;
    }

    private static int Run(
        string path,
        string chip,
        string? to,
        DiskRequest request,
        bool isJson,
        TextWriter output,
        TextWriter error
    )
    {
        if (!HexInput.TryChip(chip, error, out Device? device) || Sources.Load(path, request, error) is not { } disk)
            return ExitCodes.Unusable;
        ProgramAnalysis program = disk.Assemble();
        if (program.HasErrors || program.Device is null || disk.Roots.Length > 1)
        {
            error.WriteLine(
                $"relist: {Sources.Shown(path)} "
                    + (
                        program.HasErrors ? "has errors: 'relist check' lists them."
                        : disk.Roots.Length > 1 ? "is one of several sources of a program: that cannot be done yet."
                        : "names no chip: name the one that it is for with 'list p=...'."
                    )
            );
            return ExitCodes.Unusable;
        }

        if (Sources.Writes(Sources.Reading(path).Reads(disk.Inputs(program)), ("-o", to)).Refusal is { } clash)
        {
            error.WriteLine($"relist: {clash}");
            return ExitCodes.Unusable;
        }

        var replacement = ChipReplacement.Of(program, device!);
        string source = replacement.Source.Text.ToString();
        // The new source may be the result on standard output: then what there is to say is about the work.
        TextWriter reported = to == Sources.Standard ? error : output;
        if (isJson)
            VisibleWriter.Data(reported).Write(Json(replacement));
        else
            Report(reported, replacement, disk.Root.Text.ToString(), disk.Root.ShortName, to is null);
        if (to is not null && !Sources.Write(to, source, output, error))
            return ExitCodes.Unusable;
        if (to is not null && to != Sources.Standard)
            error.WriteLine($"Written: {Sources.Shown(to)}");
        return replacement.IsClean ? ExitCodes.Clean : ExitCodes.ProblemsRemain;
    }

    private static void Report(
        TextWriter output,
        ChipReplacement replacement,
        string before,
        string name,
        bool showsDiff
    )
    {
        int open = replacement.Findings.Count(static f => f.Kind is FindingKind.Doubt or FindingKind.Impossible);
        bool isImpossible = replacement.Findings.Any(static f => f.Kind == FindingKind.Impossible);
        output.WriteLine(
            isImpossible ? $"{replacement.To.Name} cannot take the place of {replacement.From.Name} without more work."
            : open > 0
                ? string.Create(
                    CultureInfo.InvariantCulture,
                    $"{replacement.To.Name} in place of {replacement.From.Name}: {open} thing{(open == 1 ? "" : "s")} to decide."
                )
            : $"{replacement.To.Name} in place of {replacement.From.Name}: done, nothing is left to decide."
        );
        TextTable.Paragraph(output, "", replacement.Words.ToString());
        if (replacement.Run is { } run)
            TextTable.Paragraph(output, "", run.ToString());
        foreach (
            (FindingKind kind, string title) in ((FindingKind, string)[])
                [
                    (FindingKind.Impossible, "In the way"),
                    (FindingKind.Doubt, "To decide"),
                    (FindingKind.Changed, "Changed"),
                    (FindingKind.Note, "To know"),
                ]
        )
        {
            ReplacementFinding[] some = [.. replacement.Findings.Where(f => f.Kind == kind)];
            if (some.Length == 0)
                continue;
            output.WriteLine();
            output.WriteLine(title);
            TextTable.Write(
                output,
                [],
                [
                    .. some.Select(f =>
                        new[]
                        {
                            f.Area,
                            f.Line is { } line
                                ? string.Create(CultureInfo.InvariantCulture, $"{name}:{line + 1}:1: {f.Text}")
                                : f.Text,
                        }
                    ),
                ],
                "  "
            );
        }

        if (!showsDiff)
            return;
        output.WriteLine();
        TextDiff.Write(output, before, replacement.Source.Text.ToString(), name, $"for {replacement.To.Name}");
    }

    // docs/schemas/replace.json describes it.
    private static string Json(ChipReplacement replacement) =>
        JsonText.Write(json =>
        {
            json.WriteStartObject();
            json.WriteString("from", replacement.From.Name);
            json.WriteString("to", replacement.To.Name);
            json.WriteBoolean("clean", replacement.IsClean);
            json.WriteStartObject("words");
            json.WriteBoolean("proved", replacement.Words.Holds);
            json.WriteNumber("same", replacement.Words.Same);
            json.WriteNumber("moved", replacement.Words.Moved);
            json.WriteNumber("jumps", replacement.Words.Jumps);
            json.WriteNumber("constants", replacement.Words.Values);
            json.WriteNumber("inserted", replacement.Words.Inserted);
            json.WriteNumber("open", replacement.Words.Open);
            json.WriteEndObject();
            if (replacement.Run is { } run)
            {
                json.WriteStartObject("run");
                json.WriteBoolean("same", run.Difference is null);
                json.WriteNumber("runs", run.Runs);
                json.WriteNumber("cycles", run.Cycles);
                json.WriteNumber("changes", run.Changes);
                json.WriteString("message", run.ToString());
                json.WriteEndObject();
            }

            JsonText.List(
                json,
                "findings",
                replacement.Findings,
                finding =>
                {
                    json.WriteString("kind", finding.Kind.ToString().ToLowerInvariant());
                    json.WriteString("area", finding.Area);
                    JsonText.Number(json, "line", finding.Line + 1);
                    json.WriteString("message", finding.Text);
                }
            );
            json.WriteEndObject();
        });
}
