using AsmLsp.LanguageServer.Protocol;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>textDocument/didSave</c>; the text is asked for, since some editors tell of a save before the last edits in it.</summary>
internal sealed class DidSaveHandler : IFeature
{
    public void Register(FeatureRegistry registry)
    {
        registry.Capability((offer, _) =>
            offer with { TextDocumentSync = (offer.TextDocumentSync ?? new()) with { Save = new SaveOptions(IncludeText: true) } });
        registry.Notification<DidSaveTextDocumentParams>(Methods.DidSave, (server, saved) => server.Workspace.Saved(saved.TextDocument.Uri, saved.Text));
    }
}
