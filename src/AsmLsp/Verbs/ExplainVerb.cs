using System.CommandLine;
using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Explain;
using AsmLsp.Core.Explain.Outlines;
using AsmLsp.Core.Flow;
using AsmLsp.Core.Text;
using AsmLsp.Host.Building;
using AsmLsp.LanguageServer.Workspace;
using AsmLsp.Rendering;

namespace AsmLsp.Verbs;

/// <summary><c>relist explain</c>: the outline of a program, its pins, what a hover says, and delays.</summary>
internal sealed class ExplainVerb : IVerb
{
    /// <inheritdoc/>
    public IReadOnlyList<string> Examples { get; } =
    [
        "relist explain blinker.asm",
        "relist explain blinker.asm --lines",
        "relist explain blinker.asm 12",
        "relist explain blinker.asm 12:9 --clock 4MHz",
        "relist explain blinker.asm --pins",
        "relist explain --delay 1ms --clock 4MHz",
        "relist explain missing-page",
        "relist explain safety",
    ];

    /// <inheritdoc/>
    public Command Create()
    {
        var source = new Argument<string?>("FILE")
        {
            Arity = ArgumentArity.ZeroOrOne,
            Description =
                "The source; '-' reads standard input. Or the code of a problem, such as missing-page. Or 'safety', for the cautions before you program a chip.",
        };
        var place = new Argument<string?>("LINE[:COLUMN]")
        {
            Description = "A line, or a place on it, from 1. Without it the whole program is outlined.",
            Arity = ArgumentArity.ZeroOrOne,
        };
        var clock = new Option<string?>("--clock")
        {
            Description = "The clock, such as 4MHz or 32.768kHz, for times.",
            HelpName = "RATE",
        };
        var delay = new Option<string?>("--delay")
        {
            Description =
                "Write code that takes exactly so long, such as 1ms, 20us, 3min or 100cycles, instead of explaining; --clock or FILE give the clock.",
            HelpName = "TIME",
        };
        var pins = new Option<bool>("--pins")
        {
            Description = "Show what every pin is at reset, after start-up and in the main loop.",
        };
        var lines = new Option<bool>("--lines") { Description = "Explain every line that makes words instead." };
        var routine = new Option<string?>("--routine")
        {
            Description = "With --delay: write a routine of this name; its call and its return count.",
            HelpName = "NAME",
        };
        Option<bool> json = Sources.JsonOption();
        var command = new Command(
            "explain",
            "Explain a program in outline (chip, pins, routines, times, variables), a line, a place on it, or a problem by its code."
        )
        {
            source,
            place,
            clock,
            lines,
            pins,
            json,
            delay,
            routine,
        };
        var options = new SourceOptions(command);
        command.SetAction(parsed =>
            Run(
                new Request(
                    parsed.GetValue(source),
                    parsed.GetValue(place),
                    options.Read(parsed),
                    parsed.GetValue(json),
                    parsed.GetValue(clock),
                    parsed.GetValue(delay),
                    parsed.GetValue(routine),
                    parsed.GetValue(pins),
                    parsed.GetValue(lines)
                ),
                parsed.InvocationConfiguration.Output,
                parsed.InvocationConfiguration.Error
            )
        );
        return command;
    }

    private static int Run(Request asked, TextWriter output, TextWriter error)
    {
        if (asked.Routine is not null && asked.Delay is null)
        {
            error.WriteLine("relist: --routine names the routine of --delay; give both.");
            return ExitCodes.Unusable;
        }

        if (asked.Source is not { } source)
        {
            if (asked.Delay is { } wanted)
                return DelayText.Write(wanted, asked.Routine, null, asked.Clock, asked.IsJson, output, error);
            error.WriteLine("relist: give a source to explain, or --delay with --clock.");
            return ExitCodes.Unusable;
        }

        if (asked.Place is null && !File.Exists(source) && PageOf(source) is { } page)
        {
            if (asked.IsJson)
                Write(output, [new ExplainedPlace(null, 0, source, null, new Explanation(page, new TextSpan(0, 0)))]);
            else
                MarkdownPage.Write(output, page, isPage: true);
            return ExitCodes.Clean;
        }

        if (
            asked.Place is null
            && !File.Exists(source)
            && !source.AsSpan().ContainsAny('.', '/', '\\')
            && source != Sources.Standard
        )
        {
            error.WriteLine(
                $"relist: '{source}' is neither a file nor the code of a problem. Codes are in the brackets of messages, such as [missing-page]."
            );
            return ExitCodes.Unusable;
        }

        int line = -1,
            column = -1;
        if (asked.Place is { } place && !TryPlace(place, out line, out column))
        {
            error.WriteLine(
                $"relist: '{place}' is not a place. Give a line such as 12, or a line and a column such as 12:9."
            );
            return ExitCodes.Unusable;
        }

        if (Sources.Load(source, asked.Program, error) is not { } disk)
            return ExitCodes.Unusable;
        double? rate = null;
        if ((asked.Clock ?? disk.Project.Clock) is { } text && (rate = ClockFinder.ReadRate(text)) is null)
        {
            error.WriteLine($"relist: '{text}' is not a clock rate. Write it like 4MHz or 32.768kHz.");
            if (asked.Clock is not null)
                return ExitCodes.Unusable;
        }

        ProgramAnalysis program = disk.Assemble();
        var options = new ExplainOptions { ClockHertz = rate };
        if (asked.Delay is { } duration)
            return DelayText.Write(
                duration,
                asked.Routine,
                ClockFinder.Find(program, rate),
                null,
                asked.IsJson,
                output,
                error
            );
        if (asked.Pins)
            return PinText.Write(program, asked.IsJson, output, error);
        if (asked.Place is null)
            return asked.Lines
                ? AllLines(program, options, asked.IsJson, output)
                : Outline(program, options, asked.IsJson, output);
        if (line >= program.Root.Text.LineCount)
        {
            error.WriteLine(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"relist: {Sources.Shown(program.Root.Name)} has {program.Root.Text.LineCount} lines, so there is no line {line + 1}."
                )
            );
            return ExitCodes.Unusable;
        }

        Explanation? explanation =
            column < 0
                ? Explainer.Line(program, program.Root, line, options)
                : Explainer.At(program, program.Root, line, column, options);
        if (explanation is null)
        {
            if (asked.IsJson)
                Write(output, []);
            error.WriteLine("relist: there is nothing to explain at this place: it is blank or a comment.");
            return ExitCodes.Clean;
        }

        if (asked.IsJson)
            Write(output, [Placed(program, line, explanation)]);
        else
            MarkdownPage.Write(output, explanation.Markdown, isPage: false);
        return ExitCodes.Clean;
    }

    private static string? PageOf(string word) => word == SafetyPage.Word ? SafetyPage.Text : ProblemPages.TextOf(word);

    private static ExplainedPlace Placed(ProgramAnalysis program, int line, Explanation explanation) =>
        new(Sources.Shown(program.Root.Name), line, null, program.Root.Text[line].Text, explanation);

    private static void Write(TextWriter output, IEnumerable<ExplainedPlace> places) =>
        VisibleWriter.Data(output).Write(ExplainJson.Of(places));

    private static int Outline(ProgramAnalysis program, ExplainOptions options, bool isJson, TextWriter output)
    {
        ProgramOutline outline = ProgramOutline.Of(program, options);
        if (isJson)
            VisibleWriter.Data(output).Write(OutlineJson.Of(outline));
        else
            OutlineText.Write(outline, Sources.Shown(program.Root.ShortName), output);
        return ExitCodes.Clean;
    }

    private static int AllLines(ProgramAnalysis program, ExplainOptions options, bool isJson, TextWriter output)
    {
        SourceText text = program.Root.Text;
        var places = new List<ExplainedPlace>();
        for (int line = 0; line < text.LineCount; line++)
        {
            if (
                program.FactsOf(program.Root, line).Words == 0
                || Explainer.Line(program, program.Root, line, options) is not { } explanation
            )
                continue;
            if (isJson)
            {
                places.Add(Placed(program, line, explanation));
                continue;
            }

            output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{line + 1, 4}  {text[line].Text.Trim()}"));
            output.WriteLine($"      {explanation.FirstLine}");
        }

        if (isJson)
            Write(output, places);
        return ExitCodes.Clean;
    }

    private static bool TryPlace(string place, out int line, out int column)
    {
        column = -1;
        string[] parts = place.Split(':');
        bool good =
            int.TryParse(parts[0], NumberStyles.None, CultureInfo.InvariantCulture, out line)
            && line > 0
            && parts.Length <= 2;
        line--;
        if (!good || parts.Length == 1)
            return good;
        good = int.TryParse(parts[1], NumberStyles.None, CultureInfo.InvariantCulture, out column) && column > 0;
        column--;
        return good;
    }

    private sealed record Request(
        string? Source,
        string? Place,
        DiskRequest Program,
        bool IsJson,
        string? Clock,
        string? Delay,
        string? Routine,
        bool Pins,
        bool Lines
    );
}
