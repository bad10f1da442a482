using AsmLsp.LanguageServer.Protocol;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>textDocument/didOpen</c>; any language id is taken, since clients send names of their own.</summary>
internal sealed class DidOpenHandler : IFeature
{
    public void Register(FeatureRegistry registry)
    {
        registry.Capability(
            (offer, _) => offer with { TextDocumentSync = (offer.TextDocumentSync ?? new()) with { OpenClose = true } }
        );
        registry.Notification<DidOpenTextDocumentParams>(
            Methods.DidOpen,
            (server, opened) => server.Workspace.Open(opened.TextDocument)
        );
    }
}
