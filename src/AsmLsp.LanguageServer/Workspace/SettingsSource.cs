using System.Text.Json;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Protocol;

namespace AsmLsp.LanguageServer.Workspace;

/// <summary>
/// Where settings come from: asked for with <c>workspace/configuration</c> where the client answers that, else what it pushes or gave at the
/// start. Each complaint is shown once in a session.
/// </summary>
internal sealed class SettingsSource(Client client, Func<ClientProfile> profile, CurrentWorkspace workspace)
{
    private readonly Lock gate = new();
    private readonly HashSet<string> shown = [];
    private int asked;

    /// <summary>Takes what came with <c>initialize</c>: the settings themselves, or an object that holds the section.</summary>
    public void TakeInitial(JsonElement? options) => Take(SectionOf(options) ?? options);

    /// <summary>Takes a change, or goes to fetch it.</summary>
    public void TakePushed(JsonElement? settings, CancellationToken cancellation)
    {
        if (profile().Configuration)
        {
            _ = FetchAsync(cancellation);
        }
        else if (SectionOf(settings) is { } section)
        {
            Take(section);
        }
    }

    /// <summary>Asks the client; an answer that a later question overtook is dropped.</summary>
    public async Task FetchAsync(CancellationToken cancellation)
    {
        int turn = Interlocked.Increment(ref asked);
        try
        {
            JsonElement? section = await client
                .ConfigurationAsync(Settings.Section, cancellation)
                .ConfigureAwait(false);
            lock (gate)
            {
                if (turn == Volatile.Read(ref asked))
                {
                    Take(section);
                }
            }
        }
        catch (Exception fault) when (fault is OperationCanceledException or StreamJsonRpc.ConnectionLostException)
        {
            // The session ended before the answer came.
        }
    }

    private static JsonElement? SectionOf(JsonElement? settings) =>
        settings is { ValueKind: JsonValueKind.Object } all
        && all.TryGetProperty(Settings.Section, out JsonElement section)
            ? section
            : null;

    private void Take(JsonElement? section)
    {
        (Settings settings, IReadOnlyList<string> complaints) = Settings.Read(section);
        lock (gate)
        {
            foreach (string complaint in complaints)
            {
                if (shown.Add(complaint))
                {
                    client.ShowMessage(MessageType.Warning, complaint);
                }
            }
        }

        workspace.Configure(settings);
    }
}
