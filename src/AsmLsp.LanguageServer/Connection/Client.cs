using System.Collections.Concurrent;
using System.Text.Json;
using AsmLsp.Core.Text;
using AsmLsp.LanguageServer.Protocol;
using StreamJsonRpc;

namespace AsmLsp.LanguageServer.Connection;

/// <summary>
/// What the server says to the client on its own account. Requests go out only where the client declared that it answers them; else the
/// method gives null (or false) at once.
/// </summary>
internal sealed class Client(Func<LspConnection?> connection, Func<ClientProfile> profile)
{
    private readonly ConcurrentDictionary<IntOrString, WorkProgress> running = new();
    private volatile string trace = TraceValue.Off;

    /// <summary>How much <c>$/logTrace</c> says: off, messages or verbose.</summary>
    public string Trace
    {
        get => trace;
        set => trace = value is TraceValue.Messages or TraceValue.Verbose ? value : TraceValue.Off;
    }

    /// <summary>Whether a trace is wanted at all (asked before a message is put together).</summary>
    public bool IsTracing => trace != TraceValue.Off;

    public void ShowMessage(MessageType type, string message) =>
        Notify(Methods.ShowMessage, new ShowMessageParams(type, VisibleText.Of(message)));

    public void LogMessage(MessageType type, string message) =>
        Notify(Methods.LogMessage, new LogMessageParams(type, VisibleText.Of(message)));

    public void PublishDiagnostics(PublishDiagnosticsParams diagnostics) =>
        Notify(Methods.PublishDiagnostics, diagnostics);

    /// <summary>A line for the client's trace; the details only where it asked for them.</summary>
    public void LogTrace(string message, string? details = null)
    {
        if (IsTracing)
        {
            Notify(
                Methods.LogTrace,
                new LogTraceParams(message) { Verbose = trace == TraceValue.Verbose ? details : null }
            );
        }
    }

    /// <summary>The settings under a section as the client has them; null where it can't be asked or fails.</summary>
    public async Task<JsonElement?> ConfigurationAsync(string section, CancellationToken cancellation)
    {
        if (!profile().Configuration)
        {
            return null;
        }

        var parameters = new ConfigurationParams([new ConfigurationItem { Section = section }]);
        JsonElement answer = await AskAsync<JsonElement>(Methods.Configuration, parameters, cancellation)
            .ConfigureAwait(false);
        return answer.ValueKind == JsonValueKind.Array && answer.GetArrayLength() > 0 ? answer[0] : null;
    }

    /// <summary>Whether the client carried the edit out, and why not; null where it takes no edits from a server.</summary>
    public async Task<ApplyWorkspaceEditResult?> ApplyEditAsync(
        string label,
        WorkspaceEdit edit,
        CancellationToken cancellation
    ) =>
        profile().ApplyEdit
            ? await AskAsync<ApplyWorkspaceEditResult>(
                    Methods.ApplyEdit,
                    new ApplyWorkspaceEditParams(edit) { Label = label },
                    cancellation
                )
                .ConfigureAwait(false)
            : null;

    /// <summary>Opens a document in the editor, or a page outside it.</summary>
    public async Task<bool> ShowDocumentAsync(ShowDocumentParams parameters, CancellationToken cancellation) =>
        profile().ShowDocument
        && await AskAsync<ShowDocumentResult>(Methods.ShowDocument, parameters, cancellation).ConfigureAwait(false)
            is { Success: true };

    /// <summary>The title of the button that was pressed; null when none was or the client shows no buttons.</summary>
    public async Task<string?> AskPersonAsync(
        MessageType type,
        string message,
        string[] buttons,
        CancellationToken cancellation
    )
    {
        if (!profile().ShowMessageRequest)
        {
            return null;
        }

        var parameters = new ShowMessageRequestParams(type, VisibleText.Of(message))
        {
            Actions = Array.ConvertAll(buttons, title => new MessageActionItem(title)),
        };
        MessageActionItem? answer = await AskAsync<MessageActionItem?>(
                Methods.ShowMessageRequest,
                parameters,
                cancellation
            )
            .ConfigureAwait(false);
        return answer?.Title;
    }

    /// <summary>Registers what the caller found the client able to register.</summary>
    public Task RegisterAsync(Registration[] registrations, CancellationToken cancellation) =>
        registrations.Length == 0
            ? Task.CompletedTask
            : AskAsync<JsonElement?>(Methods.RegisterCapability, new RegistrationParams(registrations), cancellation);

    /// <summary>Asks for the diagnostics, lenses, hints and colors to be fetched anew, as far as the client can.</summary>
    public async Task RefreshAsync(CancellationToken cancellation)
    {
        ClientProfile client = profile();
        (bool Can, string Method)[] all =
        [
            (client.DiagnosticRefresh, Methods.DiagnosticRefresh),
            (client.CodeLensRefresh, Methods.CodeLensRefresh),
            (client.InlayHintRefresh, Methods.InlayHintRefresh),
            (client.SemanticTokensRefresh, Methods.SemanticTokensRefresh),
        ];
        foreach ((bool can, string method) in all)
        {
            if (can)
            {
                await AskAsync<JsonElement?>(method, null, cancellation).ConfigureAwait(false);
            }
        }
    }

    /// <summary>
    /// Starts a progress: with the token that came with a request, or with one of our own where the client shows those. Null: show nothing.
    /// </summary>
    public async Task<WorkProgress?> BeginProgressAsync(
        IntOrString? given,
        string title,
        bool cancellable,
        CancellationToken cancellation
    )
    {
        if (given is { } token)
        {
            return Begin(token, title, cancellable);
        }

        if (!profile().WorkDoneProgress)
        {
            return null;
        }

        IntOrString own = Guid.NewGuid().ToString("N");
        await AskAsync<JsonElement?>(
                Methods.WorkDoneProgressCreate,
                new WorkDoneProgressCreateParams(own),
                cancellation
            )
            .ConfigureAwait(false);
        return Begin(own, title, cancellable);
    }

    /// <summary>The person pressed 'cancel' beside a progress.</summary>
    public void CancelProgress(IntOrString token)
    {
        if (running.TryGetValue(token, out WorkProgress? progress))
        {
            progress.Cancel();
        }
    }

    /// <summary>A progress is over.</summary>
    internal void Ended(IntOrString token) => running.TryRemove(token, out _);

    private WorkProgress Begin(IntOrString token, string title, bool cancellable)
    {
        var progress = new WorkProgress(this, token);
        // Known before the client is: it may cancel at once.
        running[token] = progress;
        progress.Begin(title, cancellable);
        return progress;
    }

    /// <summary>Sends a notification; a connection that is gone is no fault of the caller.</summary>
    internal void Notify(string method, object parameters)
    {
        if (connection() is not { } open)
        {
            return;
        }

        try
        {
            _ = Quiet(open.SendAsync(method, parameters));
        }
        catch (Exception fault) when (fault is ConnectionLostException or ObjectDisposedException) { }
    }

    private static async Task Quiet(Task sending)
    {
        try
        {
            await sending.ConfigureAwait(false);
        }
        catch (Exception fault)
            when (fault
                    is ConnectionLostException
                        or ObjectDisposedException
                        or IOException
                        or OperationCanceledException
            )
        {
            // The client left while something was being reported: nobody is there to hear it.
        }
    }

    private async Task<T?> AskAsync<T>(string method, object? parameters, CancellationToken cancellation)
    {
        if (connection() is not { } open)
        {
            return default;
        }

        try
        {
            return await open.RequestAsync<T>(method, parameters, cancellation).ConfigureAwait(false);
        }
        catch (Exception fault) when (fault is RemoteRpcException or ObjectDisposedException)
        {
            // A client that declares a request and then refuses it is treated as one that doesn't know it.
            return default;
        }
    }
}
