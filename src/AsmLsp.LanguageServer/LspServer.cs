using System.Collections.Immutable;
using AsmLsp.Core.Printed;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features;
using AsmLsp.LanguageServer.Protocol;
using StreamJsonRpc;

namespace AsmLsp.LanguageServer;

/// <summary>What a session needs from outside.</summary>
/// <param name="Input">Where the client's messages come from.</param>
/// <param name="Output">Where the answers go; nothing else may write to it.</param>
/// <param name="Log">The error stream, for people.</param>
/// <param name="ParentProcessId">A process whose end is the end of the session, or null.</param>
internal sealed record ServerOptions(Stream Input, Stream Output, TextWriter Log, int? ParentProcessId = null)
{
    public TimeProvider Clock { get; init; } = TimeProvider.System;

    public IReadOnlyList<IFeature> Features { get; init; } = FeatureList.All;

    /// <summary>Whether the client closed its end of the input, as the system says it before all bytes are read; null where it cannot know.</summary>
    public Func<bool>? HasHungUp { get; init; }

    /// <summary>Makes the reader of printed documents when one is asked for, given the pages of interest (empty for all); null where the program has none.</summary>
    public Func<ImmutableHashSet<int>, IPrintedDocumentReader>? Documents { get; init; }
}

/// <summary>
/// One session with one client. Ordering: messages are taken in one at a time; document notifications take effect before the next message is
/// looked at; a request takes the snapshot of that moment and then runs beside others; <c>$/cancelRequest</c> gets through at any time.
/// </summary>
internal static class LspServer
{
    /// <summary>Serves until the client leaves; gives the exit code of the process (0 only after an orderly shutdown).</summary>
    public static async Task<int> RunAsync(ServerOptions options)
    {
        var log = new ServerLog(options.Log);
        var lifecycle = new Lifecycle();
        using var stopping = new CancellationTokenSource();
        LspConnection? connection = null;
        var context = new ServerContext(() => connection, log, options.Clock, stopping.Token)
        {
            Documents = options.Documents,
        };
        var registry = new FeatureRegistry(context);
        foreach (IFeature feature in options.Features)
        {
            feature.Register(registry);
        }

        var parentGone = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        var initialize = new InitializeHandler(context, registry, WatchParent);

        await using var handler = new LspMessageHandler(
            options.Input,
            options.Output,
            LspConnection.CreateFormatter(LspJson.Default.Options),
            lifecycle,
            log,
            options.HasHungUp
        );
        using (connection = new LspConnection(handler, log))
        {
            connection.CancelLocallyInvokedMethodsWhenConnectionIsClosed = true;
            Add(
                connection,
                new(InitializeHandler.Method, (Func<InitializeParams, InitializeResult>)initialize.Handle, null, null)
            );
            foreach (RegisteredMethod method in registry.Methods)
            {
                Add(connection, method);
            }

            if (options.ParentProcessId is { } parent)
            {
                WatchParent(parent);
            }

            connection.StartListening();
            await EndAsync(connection, parentGone.Task, log).ConfigureAwait(false);
            await stopping.CancelAsync().ConfigureAwait(false);
        }

        return lifecycle.ExitCode;

        void WatchParent(int processId) => _ = WatchParentAsync(processId);

        async Task WatchParentAsync(int processId)
        {
            try
            {
                await ParentWatch.WaitUntilGoneAsync(processId, options.Clock, stopping.Token).ConfigureAwait(false);
                parentGone.TrySetResult();
            }
            catch (OperationCanceledException) { }
        }
    }

    private static void Add(LspConnection connection, RegisteredMethod method) =>
        connection.AddLocalRpcMethod(
            method.Handler.Method,
            method.Handler.Target,
            new JsonRpcMethodAttribute(method.Name) { UseSingleObjectParameterDeserialization = true }
        );

    private static async Task EndAsync(LspConnection connection, Task parentGone, ServerLog log)
    {
        try
        {
            await (await Task.WhenAny(connection.Completion, parentGone).ConfigureAwait(false)).ConfigureAwait(false);
        }
        catch (Exception fault)
            when (fault
                    is IOException
                        or ObjectDisposedException
                        or ConnectionLostException
                        or OperationCanceledException
            )
        {
            // The client closed its end in the middle of something: the session is over all the same.
        }
        catch (Exception fault)
        {
            log.Fault("the connection", fault);
        }
    }
}
