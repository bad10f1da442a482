using AsmLsp.Core.Text;

namespace AsmLsp.LanguageServer.Connection;

/// <summary>
/// What the server says whoever reads its error stream, and the names of the last messages for a fault report. Never source text.
/// </summary>
internal sealed class ServerLog(TextWriter output)
{
    private const int Remembered = 20;

    /// <summary>
    /// Less than what a pipe holds (64 KB on Linux): an editor that never reads the error stream must not bring the server to a stop.
    /// </summary>
    private const int MostCharacters = 48 * 1024;

    private readonly Lock gate = new();
    private readonly Queue<string> recent = new();
    private int written;

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
        Write(
            "fault",
            $"in {where} (version {ServerVersion.Text}; last messages: {string.Join(", ", Recent)})\n{fault}"
        );

    private void Write(string kind, string message)
    {
        lock (gate)
        {
            if (written > MostCharacters)
            {
                return;
            }

            string line = VisibleText.Of($"relist: {kind}: {message}");
            written += line.Length;
            if (written > MostCharacters)
            {
                line = "relist: further messages of this session are left out";
            }

            try
            {
                output.WriteLine(line);
                output.Flush();
            }
            catch (Exception fault) when (fault is IOException or ObjectDisposedException)
            {
                // Nobody reads the error stream any more: no reason to stop working.
            }
        }
    }
}
