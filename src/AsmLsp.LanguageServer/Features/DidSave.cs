using AsmLsp.LanguageServer.Protocol;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>textDocument/didSave</c>; the text is known already and not asked for.</summary>
internal sealed class DidSaveHandler : IFeature
{
    public void Register(FeatureRegistry registry)
    {
        registry.Capability((offer, _) =>
            offer with { TextDocumentSync = (offer.TextDocumentSync ?? new()) with { Save = new SaveOptions(IncludeText: false) } });
        registry.Notification<DidSaveTextDocumentParams>(Methods.DidSave, (server, saved) => server.Workspace.Saved(saved.TextDocument.Uri));
    }
}
