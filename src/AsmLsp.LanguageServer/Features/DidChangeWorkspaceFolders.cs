using System.Text.Json.Serialization;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>workspace/didChangeWorkspaceFolders</c>.</summary>
internal sealed class DidChangeWorkspaceFoldersHandler : IFeature
{
    public const string Method = "workspace/didChangeWorkspaceFolders";

    public void Register(FeatureRegistry registry)
    {
        registry.Capability(
            (offer, client) =>
                client.WorkspaceFolders
                    ? offer with
                    {
                        Workspace = (offer.Workspace ?? new()) with
                        {
                            WorkspaceFolders = new(Supported: true, ChangeNotifications: true),
                        },
                    }
                    : offer
        );
        registry.Notification<DidChangeWorkspaceFoldersParams>(
            Method,
            (server, change) => server.Workspace.ChangeFolders(Uris(change.Event.Added), Uris(change.Event.Removed))
        );
    }

    private static IEnumerable<DocumentUri> Uris(WorkspaceFolder[] folders) =>
        folders.Select(folder => DocumentUri.Parse(folder.Uri));
}

internal sealed record WorkspaceFolder(string Uri, string Name);

internal sealed record WorkspaceFoldersChangeEvent(WorkspaceFolder[] Added, WorkspaceFolder[] Removed)
    : IJsonOnDeserialized
{
    void IJsonOnDeserialized.OnDeserialized() => ListEntries.Check(Added, Removed);
}

internal sealed record DidChangeWorkspaceFoldersParams(WorkspaceFoldersChangeEvent Event);

internal sealed record WorkspaceFoldersServerCapabilities(bool Supported, bool ChangeNotifications);

internal sealed partial record WorkspaceServerCapabilities
{
    public WorkspaceFoldersServerCapabilities? WorkspaceFolders { get; init; }
}

internal sealed partial class MessageTypes
{
    public DidChangeWorkspaceFoldersParams? DidChangeWorkspaceFoldersParams { get; init; }
}

/// <summary>What a client declares about this.</summary>
internal static class DidChangeWorkspaceFoldersClient
{
    extension(ClientProfile client)
    {
        /// <summary>Whether it has folders that come and go.</summary>
        public bool WorkspaceFolders => client.Flag("workspace.workspaceFolders");
    }
}
