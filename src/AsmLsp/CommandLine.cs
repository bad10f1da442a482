using System.CommandLine;
using AsmLsp.Verbs;

namespace AsmLsp;

/// <summary>All verbs but <c>serve</c> come through here (that one only for its help).</summary>
internal static class CommandLine
{
    /// <summary>The verbs in the order of the help text; a test finds one that is missing here.</summary>
    public static IReadOnlyList<IVerb> Verbs { get; } =
    [
        new ServeVerb(),
        new RecoverVerb(),
        new TidyVerb(),
        new CheckVerb(),
        new BuildVerb(),
        new ExplainVerb(),
        new CompareVerb(),
        new DisassembleVerb(),
        new ChipsVerb(),
        new DoctorVerb(),
    ];

    /// <summary>Runs a command line; a mistake in it gives a message and <see cref="ExitCodes.Unusable"/>.</summary>
    public static int Run(string[] args, TextWriter output, TextWriter error)
    {
        var root = new RootCommand(
            "Turns printed listings of mid-range PIC assembly into source, explains them and builds HEX files."
        );
        foreach (IVerb verb in Verbs)
        {
            Command command = verb.Create();
            if (args.Length > 0 && args[0] == command.Name && verb.Examples.Count > 0)
                command.Description += "\n\nExamples:\n" + string.Join('\n', verb.Examples.Select(e => "  " + e));
            root.Subcommands.Add(command);
        }

        ParseResult parsed = root.Parse(args);
        int code = parsed.Invoke(new InvocationConfiguration { Output = output, Error = error });
        return parsed.Errors.Count > 0 ? ExitCodes.Unusable : code;
    }
}
