using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>workspace/didChangeWorkspaceFolders</c>.</summary>
internal sealed class DidChangeWorkspaceFoldersHandler : IFeature
{
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
            Methods.DidChangeWorkspaceFolders,
            (server, change) => server.Workspace.ChangeFolders(Uris(change.Event.Added), Uris(change.Event.Removed))
        );
    }

    private static IEnumerable<DocumentUri> Uris(WorkspaceFolder[] folders) =>
        folders.Select(folder => DocumentUri.Parse(folder.Uri));
}
