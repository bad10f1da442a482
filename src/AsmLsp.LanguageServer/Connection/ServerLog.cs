namespace AsmLsp.LanguageServer.Connection;

/// <summary>
/// What the server tells whoever reads its error stream, and the names of the last messages for a fault report. Never source text.
/// </summary>
internal sealed class ServerLog(TextWriter output)
{
    private const int Remembered = 20;

    private readonly Lock gate = new();
    private readonly Queue<string> recent = new();

    /// <summary>The methods that came last, oldest first.</summary>
    public IReadOnlyList<string> Recent
    {
        get
        {
            lock (gate)
            {
                return [.. recent];
            }
        }
    }

    /// <summary>Remembers a method at its arrival.</summary>
    public void Note(string method)
    {
        lock (gate)
        {
            if (recent.Count == Remembered)
            {
                recent.Dequeue();
            }

            recent.Enqueue(method);
        }
    }

    public void Warn(string message) => Write("warning", message);

    /// <summary>A fault of the server itself, with all that helps to find it.</summary>
    public void Fault(string where, Exception fault) =>
        Write("fault", $"in {where} (version {LspServer.Version}; last messages: {string.Join(", ", Recent)})\n{fault}");

    private void Write(string kind, string message)
    {
        lock (gate)
        {
            try
            {
                output.WriteLine($"relist: {kind}: {message}");
                output.Flush();
            }
            catch (Exception fault) when (fault is IOException or ObjectDisposedException)
            {
                // Nobody reads the error stream any more: no reason to stop working.
            }
        }
    }
}
