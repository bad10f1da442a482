using AsmLsp.LanguageServer.Protocol;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>textDocument/didChange</c>: parts are asked for; whole texts, which some clients send anyway, are taken too.</summary>
internal sealed class DidChangeHandler : IFeature
{
    public void Register(FeatureRegistry registry)
    {
        registry.Capability(
            (offer, _) =>
                offer with
                {
                    TextDocumentSync = (offer.TextDocumentSync ?? new()) with
                    {
                        Change = TextDocumentSyncKind.Incremental,
                    },
                }
        );
        registry.Notification<DidChangeTextDocumentParams>(
            Methods.DidChange,
            (server, change) => server.Workspace.Edit(change.TextDocument, change.ContentChanges, server.Positions)
        );
    }
}
