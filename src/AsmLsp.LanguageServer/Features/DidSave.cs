using AsmLsp.LanguageServer.Protocol;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>textDocument/didSave</c>; the text is not asked for, since ALE 3.3 sends it encoded twice; the file has it.</summary>
internal sealed class DidSaveHandler : IFeature
{
    public void Register(FeatureRegistry registry)
    {
        registry.Capability(
            (offer, _) =>
                offer with
                {
                    TextDocumentSync = (offer.TextDocumentSync ?? new()) with
                    {
                        Save = new SaveOptions(IncludeText: false),
                    },
                }
        );
        registry.Notification<DidSaveTextDocumentParams>(
            Methods.DidSave,
            (server, saved) => server.Workspace.Saved(saved.TextDocument.Uri, saved.Text)
        );
    }
}
