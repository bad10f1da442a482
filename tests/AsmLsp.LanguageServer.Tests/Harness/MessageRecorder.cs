using System.Text.Json.Nodes;

namespace AsmLsp.LanguageServer.Tests.Harness;

/// <summary>Writes the messages of one session as JSON lines into the folder <c>recorded</c> of the test output.</summary>
internal sealed class MessageRecorder : IDisposable
{
    /// <summary>Long runs of one kind of message prove nothing more after this many.</summary>
    private const int Most = 400;

    private readonly Lock gate = new();
    private readonly StreamWriter output;
    private int count;
    private bool closed;

    public MessageRecorder(string name)
    {
        string folder = Path.Combine(AppContext.BaseDirectory, "recorded");
        Directory.CreateDirectory(folder);
        output = new StreamWriter(Path.Combine(folder, $"{name}-{Guid.NewGuid():N}.jsonl")) { AutoFlush = true };
    }

    public void Write(string from, JsonObject message)
    {
        lock (gate)
        {
            if (!closed && count++ < Most)
            {
                output.WriteLine(new JsonObject { ["from"] = from, ["message"] = message.DeepClone() }.ToJsonString());
            }
        }
    }

    public void Dispose()
    {
        lock (gate)
        {
            closed = true;
            output.Dispose();
        }
    }
}
