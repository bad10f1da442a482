using System.CommandLine;
using AsmLsp.Rendering;
using AsmLsp.Verbs;

namespace AsmLsp;

/// <summary>All verbs but <c>serve</c> come through here (that one only for its help).</summary>
internal static class CommandLine
{
    /// <summary>The verbs in the order of the help text; a test finds one that is missing here.</summary>
    public static IReadOnlyList<IVerb> Verbs { get; } =
    [
        new RecoverVerb(),
        new CheckVerb(),
        new TidyVerb(),
        new BuildVerb(),
        new ExplainVerb(),
        new CompareVerb(),
        new ReadoutVerb(),
        new CardVerb(),
        new ReplaceVerb(),
        new ArchiveVerb(),
        new DisassembleVerb(),
        new ChipsVerb(),
        new DoctorVerb(),
        new ServeVerb(),
    ];

    /// <summary>Runs a command line; a mistake in it, and a fault of any kind, gives a message and <see cref="ExitCodes.Unusable"/>.</summary>
    public static int Run(string[] args, TextWriter output, TextWriter error)
    {
        // A person who types the input needs no sign of life.
        bool isTyped = !Console.IsInputRedirected && args.Contains(Sources.Standard);
        using Waiting? waiting = Console.IsErrorRedirected || isTyped ? null : new Waiting(error);
        error = new VisibleWriter(error, isTerminal: true, isScreen: !Console.IsErrorRedirected) { Waiting = waiting };
        output = new VisibleWriter(
            output,
            isTerminal: !Console.IsOutputRedirected,
            isScreen: !Console.IsOutputRedirected
        )
        {
            Waiting = waiting,
        };
        try
        {
            return RunParsed(args, output, error);
        }
        catch (OutputLostException lost)
        {
            error.WriteLine($"relist: {lost.Message} The result is not complete.");
        }
        catch (OutOfMemoryException)
        {
            error.WriteLine("relist: the input needs more memory than relist takes. Split it into smaller files.");
        }
        catch (Exception fault)
        {
            error.WriteLine($"relist: this is a fault of relist itself ({fault.GetType().Name}: {fault.Message})");
            if (Environment.GetEnvironmentVariable("RELIST_TRACE") is { Length: > 0 })
                error.WriteLine(fault.ToString());
        }

        return ExitCodes.Unusable;
    }

    private static int RunParsed(string[] args, TextWriter output, TextWriter error)
    {
        if (RootHelp.IsAskedFor(args))
        {
            RootHelp.Write(output);
            return ExitCodes.Clean;
        }

        if (args.Length == 0)
        {
            error.WriteLine("relist: no command is given.");
            error.WriteLine();
            RootHelp.Write(error);
            return ExitCodes.Unusable;
        }

        if (args is ["help", var about, ..])
            args = [about, "--help"];
        if (args[0].Length > 0 && args[0][0] != '-' && Verbs.All(verb => verb.Create().Name != args[0]))
        {
            error.WriteLine($"relist: {RootHelp.Unknown(args[0])}");
            return ExitCodes.Unusable;
        }

        var root = new RootCommand(
            "Turns printed listings of mid-range PIC assembly into source, explains them and builds HEX files."
        );
        // '[suggest]' and its like are names of files, as all else is.
        root.Directives.Clear();
        foreach (IVerb verb in Verbs)
        {
            Command command = verb.Create();
            if (args.Length > 0 && args[0] == command.Name && verb.Examples.Count > 0)
                command.Description += "\n\nExamples:\n" + string.Join('\n', verb.Examples.Select(e => "  " + e));
            root.Subcommands.Add(command);
        }

        // A file may be called '@name': it is a file, and not a list of further arguments.
        ParseResult parsed = root.Parse(args, new ParserConfiguration { ResponseFileTokenReplacer = null });
        if (parsed.Tokens.Any(static token => token.Value.Length == 0))
        {
            error.WriteLine("relist: an argument is empty: name a file, or leave it out.");
            return ExitCodes.Unusable;
        }

        if (CommandMistakes.Of(parsed, args) is { } mistake)
        {
            error.WriteLine($"relist: {mistake}");
            return ExitCodes.Unusable;
        }

        int code = parsed.Invoke(
            new InvocationConfiguration
            {
                Output = output,
                Error = error,
                EnableDefaultExceptionHandler = false,
            }
        );
        return parsed.Errors.Count > 0 ? ExitCodes.Unusable : code;
    }
}
