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
    ["relist tidy blinker.asm", "relist tidy *.asm --check", "relist tidy blinker.asm --diff"];

    /// <inheritdoc/>
    public Command Create()
    {
        var files = new Argument<string[]>("FILE")
        {
            Description = "Sources; '-' reads standard input and writes standard output.",
            Arity = ArgumentArity.OneOrMore,
        };
        var check = new Option<bool>("--check")
        {
            Description = "Change nothing; exit code 1 says that something would be changed.",
        };
        var diff = new Option<bool>("--diff") { Description = "Change nothing; show what would be changed." };
        var command = new Command(
            "tidy",
            "Make every layout fix that cannot change the program, and put the columns right. The words before and after are compared."
        )
        {
            files,
            check,
            diff,
        };
        command.SetAction(parsed =>
            Run(
                parsed.GetRequiredValue(files),
                parsed.GetValue(check),
                parsed.GetValue(diff),
                parsed.InvocationConfiguration.Output,
                parsed.InvocationConfiguration.Error
            )
        );
        return command;
    }

    private static int Run(string[] files, bool check, bool diff, TextWriter output, TextWriter error)
    {
        int code = ExitCodes.Clean;
        foreach (string file in files)
            code = Math.Max(code, One(file, check, diff, output, error));
        return code;
    }

    private static int One(string file, bool check, bool diff, TextWriter output, TextWriter error)
    {
        if (Sources.Load(file, null, null, error) is not { } disk)
            return ExitCodes.Unusable;
        ProgramAnalysis program = disk.Assemble();
        FixAllResult result = Tidy.Run(program, program.Root);
        string before = program.Root.Text.ToString(),
            after = result.NewText.ToString();
        bool changed = before != after;
        if (diff)
            TextDiff.Write(output, before, after, Sources.Shown(program.Root.Name));
        else if (!check && file == Sources.Standard)
            VisibleWriter.Data(output).Write(after);
        else if (!check && changed && Save(file, result.NewText, error) is { } failed)
            return failed;

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
                    $"{Sources.Shown(program.Root.Name)}:{first.Line + 1}: {first.What}{more} [{same.Key}]"
                )
            );
        }

        if (check || diff)
        {
            if (changed)
                error.WriteLine($"{Sources.Shown(program.Root.Name)} would be changed.");
            return changed ? ExitCodes.ProblemsRemain : ExitCodes.Clean;
        }

        var tidied = new SourceFile(program.Root.Name, result.NewText);
        ProgramAnalysis again = program.With(new Dictionary<SourceFile, SourceFile> { [program.Root] = tidied });
        Problem[] left = [.. Sources.ProblemsOf(again).Where(p => p.Severity != Severity.Information)];
        error.WriteLine(
            $"{Sources.Shown(program.Root.Name)}: {(changed ? "tidied" : "nothing to tidy")}; {ProblemText.Count(left)} left"
        );
        return left.Length > 0 ? ExitCodes.ProblemsRemain : ExitCodes.Clean;
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
}
