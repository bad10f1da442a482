using System.CommandLine;
using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Layout;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Repairs;
using AsmLsp.Core.Text;
using AsmLsp.Host;
using AsmLsp.Host.Building;
using AsmLsp.Rendering;

namespace AsmLsp.Verbs;

/// <summary><c>relist tidy</c>: every safe layout fix, and the columns.</summary>
internal sealed class TidyVerb : IVerb
{
    /// <inheritdoc/>
    public IReadOnlyList<string> Examples { get; } =
    ["relist tidy blinker.asm", "relist tidy *.asm --dry-run", "relist tidy blinker.asm --diff"];

    /// <inheritdoc/>
    public Command Create()
    {
        var files = new Argument<string[]>("FILE")
        {
            Description = "Sources; '-' reads standard input and writes standard output.",
            Arity = ArgumentArity.OneOrMore,
        };
        Option<bool> dryRun = Sources.DryRunOption();
        dryRun.Description = "Change nothing. Exit code 1 means that something would change.";
        var diff = new Option<bool>("--diff") { Description = "Change nothing; show what would change." };
        Option<bool> json = Sources.JsonOption();
        var command = new Command(
            "tidy",
            "Make every layout fix that cannot change the program, and align the columns. The words before and after are compared.\n\nExit code 0: no problems are left; 1: problems are left, or --dry-run found something to change; 2: a file could not be used."
        )
        {
            files,
            dryRun,
            diff,
            json,
        };
        var options = new SourceOptions(command);
        command.SetAction(parsed =>
        {
            (TextWriter output, TextWriter error) = (
                parsed.InvocationConfiguration.Output,
                parsed.InvocationConfiguration.Error
            );
            bool isJson = parsed.GetValue(json);
            string[] sources = parsed.GetRequiredValue(files);
            if (isJson && !parsed.GetValue(dryRun) && sources.Contains(Sources.Standard))
            {
                error.WriteLine(
                    "relist: --json and the tidied source would both go to standard output. Add --dry-run, or name a file."
                );
                return ExitCodes.Unusable;
            }

            var order = new TidyOrder(
                options.Read(parsed),
                parsed.GetValue(dryRun),
                parsed.GetValue(diff) && !isJson,
                isJson ? [] : null
            );
            int code = ExitCodes.Clean;
            foreach (string file in sources)
                code = Math.Max(code, One(file, order, output, error));
            if (order.Reports is { } reports)
                VisibleWriter.Data(output).Write(TidyJson.Of(reports));
            return code;
        });
        return command;
    }

    private static int One(string file, TidyOrder order, TextWriter output, TextWriter error)
    {
        if (Sources.Load(file, order.Request, error) is not { } disk)
            return ExitCodes.Unusable;
        bool isLook = order.IsDryRun || order.IsDiff;
        ProgramAnalysis program = disk.Assemble();
        FixAllResult result = Tidy.Run(program, program.Root);
        string before = program.Root.Text.ToString(),
            after = result.NewText.ToString();
        bool changed = before != after;
        if (order.IsDiff)
            TextDiff.Write(output, before, after, Sources.Shown(program.Root.Name));
        else if (!isLook && file == Sources.Standard)
            VisibleWriter.Data(output).Write(after);
        else if (!isLook && changed && Save(file, result.NewText, error) is { } failed)
            return failed;

        if (order.Reports is { } reports)
        {
            Problem[] remaining = Left(program, result);
            reports.Add(
                new TidyReport(Sources.Shown(program.Root.Name), changed, !isLook && changed, result.Changes, remaining)
            );
            return (isLook ? changed : remaining.Length > 0) ? ExitCodes.ProblemsRemain : ExitCodes.Clean;
        }

        foreach (IGrouping<string, FixChange> same in result.Changes.GroupBy(c => c.Kind.Code))
        {
            FixChange first = same.First();
            string more =
                same.Count() > 1
                    ? string.Create(CultureInfo.InvariantCulture, $" (and {same.Count() - 1} more of this kind)")
                    : "";
            error.WriteLine(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{Sources.Shown(program.Root.Name)}:{first.Line + 1}:1: {first.What}{more} [{same.Key}]"
                )
            );
        }

        if (isLook)
        {
            error.WriteLine(
                $"{Sources.Shown(program.Root.Name)}: {(changed ? "would be changed" : "nothing to tidy")}; nothing is written"
            );
            return changed ? ExitCodes.ProblemsRemain : ExitCodes.Clean;
        }

        Problem[] left = Left(program, result);
        error.WriteLine(
            $"{Sources.Shown(program.Root.Name)}: {(changed ? "tidied" : "nothing to tidy")}; {ProblemText.Count(left)} left"
        );
        return left.Length > 0 ? ExitCodes.ProblemsRemain : ExitCodes.Clean;
    }

    // What a person must still look at, in the text as it is now.
    private static Problem[] Left(ProgramAnalysis program, FixAllResult result)
    {
        var tidied = new SourceFile(program.Root.Name, result.NewText);
        ProgramAnalysis again = program.With(new Dictionary<SourceFile, SourceFile> { [program.Root] = tidied });
        return [.. Sources.ProblemsOf(again).Where(p => p.Severity != Severity.Information)];
    }

    private static int? Save(string path, SourceText text, TextWriter error)
    {
        string characters = text.ToString();
        TextEncoding encoding = text.Encoding.CanWrite(characters) ? text.Encoding : TextEncoding.Utf8;
        if (encoding != text.Encoding)
            error.WriteLine(
                $"relist: {Sources.Shown(path)} is now written as UTF-8: {text.Encoding.Name} lacks some of its characters."
            );
        if (AtomicWriter.Write(path, encoding.GetBytes(characters)) is not { } fault)
            return null;
        error.WriteLine($"relist: {fault}");
        return ExitCodes.Unusable;
    }

    private sealed record TidyOrder(DiskRequest Request, bool IsDryRun, bool IsDiff, List<TidyReport>? Reports);
}
