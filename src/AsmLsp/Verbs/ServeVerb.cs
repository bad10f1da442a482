using System.CommandLine;
using AsmLsp.LanguageServer;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.Recovering;

namespace AsmLsp.Verbs;

/// <summary><c>relist serve</c>: the language server. <see cref="Run"/> touches no library but those of the server.</summary>
internal sealed class ServeVerb : IVerb
{
    /// <inheritdoc/>
    public IReadOnlyList<string> Examples { get; } = ["relist serve --stdio"];

    /// <inheritdoc/>
    public Command Create()
    {
        var command = new Command("serve", "Serve an editor over the Language Server Protocol (3.17).");
        command.Options.Add(
            new Option<bool>("--stdio") { Description = "Talk over standard input and output (the default)." }
        );
        command.Options.Add(
            new Option<string>("--pipe") { Description = "Connect to a named pipe or local socket.", HelpName = "NAME" }
        );
        command.Options.Add(
            new Option<int>("--socket") { Description = "Connect to a port of this machine.", HelpName = "PORT" }
        );
        command.Options.Add(
            new Option<int>("--clientProcessId") { Description = "End when this process is gone.", HelpName = "N" }
        );
        command.SetAction(parsed => Run([.. parsed.Tokens.Skip(1).Select(token => token.Value)]));
        return command;
    }

    /// <summary>Whether an argument asks for help instead.</summary>
    public static bool AsksForHelp(string argument) => argument is "--help" or "-h" or "-?";

    /// <summary>Serves until the client leaves. A flag that is not known is reported and ignored, since editors pass flags of their own.</summary>
    public static int Run(string[] arguments)
    {
        // Taken before anything else runs: whatever is printed by mistake must not reach the client.
        using Stream? input = StandardStreams.Input();
        using Stream? output = StandardStreams.Output();
        TextWriter error = StandardStreams.ErrorWriter();
        Console.SetOut(TextWriter.Null);
        Console.SetError(TextWriter.Null);

        var parsed = ServeArguments.Parse(arguments);
        foreach (string warning in parsed.Warnings)
        {
            error.WriteLine($"relist: warning: {warning}");
        }

        if (parsed.Fault is { } fault)
        {
            error.WriteLine($"relist: {fault}");
            return ExitCodes.Unusable;
        }

        if (parsed is { Pipe: null, Port: null } && (input is null || output is null))
        {
            error.WriteLine("relist: standard input or output is closed, so that no editor can be served.");
            return ExitCodes.Unusable;
        }

        return ServeAsync(parsed, input ?? Stream.Null, output ?? Stream.Null, error).GetAwaiter().GetResult();
    }

    private static async Task<int> ServeAsync(ServeArguments arguments, Stream input, Stream output, TextWriter error)
    {
        try
        {
            await using Stream? connection =
                arguments.Pipe is { } pipe
                    ? await Transport.ConnectPipeAsync(pipe, CancellationToken.None).ConfigureAwait(false)
                : arguments.Port is { } port
                    ? await Transport.ConnectSocketAsync(port, CancellationToken.None).ConfigureAwait(false)
                : null;
            return await LspServer
                .RunAsync(
                    new ServerOptions(connection ?? input, connection ?? output, error, arguments.ClientProcessId)
                    {
                        HasHungUp = connection is null ? StandardStreams.InputHasHungUp : null,
                        Documents = DocumentReaders.For,
                    }
                )
                .ConfigureAwait(false);
        }
        catch (IOException fault)
        {
            error.WriteLine($"relist: no connection to the client: {fault.Message}");
            return ExitCodes.Unusable;
        }
    }
}
