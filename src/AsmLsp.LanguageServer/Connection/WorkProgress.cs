using AsmLsp.LanguageServer.Protocol;

namespace AsmLsp.LanguageServer.Connection;

/// <summary>A progress shown by the client; ends when disposed.</summary>
internal sealed class WorkProgress(Client client, IntOrString token) : IDisposable
{
    private readonly CancellationTokenSource cancelled = new();
    private string? last;

    /// <summary>Cancelled when the person presses 'cancel' beside it.</summary>
    public CancellationToken Cancelled => cancelled.Token;

    /// <summary>Shows it.</summary>
    public void Begin(string title, bool cancellable) =>
        Send(new WorkDoneProgressBegin(title) { Cancellable = cancellable, Percentage = 0 });

    /// <summary>Says what is being done and how far it is (0 to 100, never going back).</summary>
    public void Report(string message, int percentage) =>
        Send(new WorkDoneProgressReport { Message = message, Percentage = Math.Clamp(percentage, 0, 100) });

    /// <summary>The words to end with.</summary>
    public void Finish(string message) => last = message;

    public void Cancel() => cancelled.Cancel();

    public void Dispose()
    {
        // The source is left to the collector: a late 'cancel' may still touch it.
        client.Ended(token);
        Send(new WorkDoneProgressEnd { Message = last });
    }

    private void Send(object value) => client.Notify(Methods.Progress, new ProgressParams(token, value));
}
