using AsmLsp.LanguageServer.Protocol;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>textDocument/didClose</c>.</summary>
internal sealed class DidCloseHandler : IFeature
{
    public void Register(FeatureRegistry registry) =>
        registry.Notification<DidCloseTextDocumentParams>(
            Methods.DidClose,
            (server, closed) => server.Workspace.Close(closed.TextDocument.Uri)
        );
}
