using System.CommandLine;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Bench;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Flow;
using AsmLsp.Core.Problems;
using AsmLsp.Host;
using AsmLsp.Host.Building;
using AsmLsp.Rendering;

namespace AsmLsp.Verbs;

/// <summary><c>relist card</c>: the bench card of a program: chip, pins, what to probe, programming step by step.</summary>
internal sealed class CardVerb : IVerb
{
    private const int MostRows = 999;

    /// <inheritdoc/>
    public IReadOnlyList<string> Examples { get; } =
    [
        "relist card blinker.asm -o blinker-card.html",
        "relist card blinker.asm --boards 12 --labels -o blinker-card.html",
        "relist card readout.hex --chip 16F84A --clock \"4 MHz\" --format md",
    ];

    /// <inheritdoc/>
    public Command Create()
    {
        var file = new Argument<string>("FILE") { Description = "The source, or a HEX file (then name the chip)." };
        var output = new Option<string>("-o", "--output")
        {
            Description = "Where the card goes; standard output unless given.",
            HelpName = "OUT.html",
            DefaultValueFactory = static _ => Sources.Standard,
        };
        Option<string?> chip = Sources.ChipOption();
        var clock = new Option<string?>("--clock")
        {
            Description = "The clock, where the source does not say it, such as \"4 MHz\".",
            HelpName = "RATE",
        };
        var boards = new Option<int>("--boards")
        {
            Description = "Add a record of the batch, with a row for each of so many boards.",
            HelpName = "N",
        };
        var labels = new Option<bool>("--labels")
        {
            Description = "Add a sheet of labels: name, checksum, room for the date. As many as boards, else 24.",
        };
        var format = new Option<string?>("--format")
        {
            Description =
                "What the card is written as: a page for a browser and for paper, or text. Text is what a terminal shows unless -o is given.",
        };
        format.AcceptOnlyFromAmong("html", "md");
        var json = new Option<bool>("--json") { Description = "Write JSON, for scripts." };
        Option<string[]> includes = Sources.IncludeOption();
        Option<string?> project = Sources.ProjectOption();
        Option<string[]> define = Sources.DefineOption();
        var command = new Command(
            "card",
            "Make the bench card of a program. It shows the chip from above, the configuration in words, what to probe, each programming step, and the record of a batch.\n\nExit code 0: written; 1: the program has errors, nothing is written; 2: the input could not be used."
        )
        {
            file,
            output,
            chip,
            clock,
            boards,
            labels,
            format,
            json,
            includes,
            project,
            define,
        };
        command.SetAction(parsed =>
        {
            TextWriter error = parsed.InvocationConfiguration.Error;
            double? hertz = null;
            if (parsed.GetValue(clock) is { } rate && (hertz = ClockFinder.ReadRate(rate)) is null)
            {
                error.WriteLine($"relist: --clock takes a rate with its unit, such as \"4 MHz\"; '{rate}' is none.");
                return ExitCodes.Unusable;
            }

            int rows = parsed.GetValue(boards);
            if (rows is < 0 or > MostRows)
            {
                error.WriteLine($"relist: --boards takes a number up to {MostRows}.");
                return ExitCodes.Unusable;
            }

            string path = parsed.GetRequiredValue(file);
            var request = new DiskRequest
            {
                Chip = parsed.GetValue(chip),
                IncludeFolders = parsed.GetValue(includes) ?? [],
                ProjectFile = parsed.GetValue(project),
                Defines = parsed.GetValue(define) ?? [],
            };
            OutputCheck check = Sources.Reading(path);
            (BenchSubject? subject, int code) =
                HexInput.IsSource(path) || path == Sources.Standard
                    ? OfSource(path, request, hertz, check, error)
                    : OfHex(path, request.Chip, hertz, error);
            if (subject is null)
                return code;
            subject = subject with
            {
                Boards = rows,
                Labels =
                    !parsed.GetValue(labels) ? 0
                    : rows > 0 ? rows
                    : 24,
            };
            string to = parsed.GetRequiredValue(output);
            if (Sources.Writes(check, ("-o", to)).Refusal is { } clash)
            {
                error.WriteLine($"relist: {clash}");
                return ExitCodes.Unusable;
            }

            var card = BenchCard.Of(subject);
            string text =
                parsed.GetValue(json) ? CardJson.Of(card)
                : (parsed.GetValue(format) ?? Usual(to, parsed.InvocationConfiguration.Output)) == "md"
                    ? CardMarkdown.Of(card)
                : CardHtml.Of(card);
            if (!Sources.Write(to, text, parsed.InvocationConfiguration.Output, error))
                return ExitCodes.Unusable;
            foreach (string warning in CardNotes.Warnings(card))
                error.WriteLine($"relist: caution: {warning}");
            if (to != Sources.Standard)
                error.WriteLine($"Written: {Sources.Shown(to)}");
            else if (parsed.InvocationConfiguration.Output is VisibleWriter { IsScreen: true })
                error.WriteLine("To print the card, write it as a page: add -o card.html.");
            return ExitCodes.Clean;
        });
        return command;
    }

    // Nobody reads the tags of a page on a terminal.
    private static string Usual(string path, TextWriter output) =>
        path == Sources.Standard && output is VisibleWriter { IsScreen: true } ? "md" : "html";

    private static (BenchSubject? Subject, int Code) OfSource(
        string path,
        DiskRequest request,
        double? hertz,
        OutputCheck check,
        TextWriter error
    )
    {
        if (Sources.Load(path, request, error) is not { } disk)
            return (null, ExitCodes.Unusable);
        ProgramAnalysis program = disk.Assemble();
        check.Reads(disk.Inputs(program));
        if (program.HasErrors)
        {
            error.WriteLine(
                $"relist: {Sources.Shown(path)} has errors: 'relist check' lists them. No card is written."
            );
            return (null, ExitCodes.ProblemsRemain);
        }

        if (program.Device is not { } device)
        {
            error.WriteLine($"relist: {Sources.Shown(path)} names no chip: add --chip, such as --chip 16F84A.");
            return (null, ExitCodes.Unusable);
        }

        IReadOnlyList<Problem> problems = Sources.ProblemsOf(program);
        int doubts = problems.Count(static p => p.Code == ProgramBuilder.DoubtCode);
        string name = path == Sources.Standard ? "standard-input.hex" : Path.GetFileNameWithoutExtension(path) + ".hex";
        return (
            BenchSubject.Of(name, program, device, hertz) with
            {
                Doubts = doubts,
                Warnings = problems.Count(static p => p.Severity == Severity.Warning) - doubts,
            },
            ExitCodes.Clean
        );
    }

    private static (BenchSubject? Subject, int Code) OfHex(string path, string? chip, double? hertz, TextWriter error)
    {
        if (!HexInput.TryChip(chip, error, out Device? device) || HexInput.Read(path, error) is not { } hex)
            return (null, ExitCodes.Unusable);
        device ??= Core.Readouts.ReadoutContent.ChipOf(hex.Memory);
        if (device is not null)
            return (BenchSubject.Of(Path.GetFileName(path), hex.Memory, device, hertz), ExitCodes.Clean);
        error.WriteLine("relist: a HEX file does not say which chip it is for: add --chip, such as --chip 16F84A.");
        return (null, ExitCodes.Unusable);
    }
}
