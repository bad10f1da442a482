using AsmLsp.LanguageServer.Protocol;

namespace AsmLsp.LanguageServer.Connection;

/// <summary>A progress shown by the client; ends when disposed.</summary>
internal sealed class WorkProgress : IDisposable
{
    private readonly Client client;
    private readonly IntOrString token;
    private string? last;

    public WorkProgress(Client client, IntOrString token, string title, bool cancellable)
    {
        this.client = client;
        this.token = token;
        Send(new WorkDoneProgressBegin(title) { Cancellable = cancellable, Percentage = 0 });
    }

    /// <summary>Says what is being done and how far it is (0 to 100, never going back).</summary>
    public void Report(string message, int percentage) =>
        Send(new WorkDoneProgressReport { Message = message, Percentage = Math.Clamp(percentage, 0, 100) });

    /// <summary>The words to end with.</summary>
    public void Finish(string message) => last = message;

    public void Dispose() => Send(new WorkDoneProgressEnd { Message = last });

    private void Send<T>(T value) => client.Notify(Methods.Progress, new ProgressParams(token, LspJson.Element(value)));
}
