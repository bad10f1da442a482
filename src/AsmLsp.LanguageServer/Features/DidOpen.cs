using AsmLsp.LanguageServer.Protocol;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>textDocument/didOpen</c>; any language id is taken, since clients send names of their own.</summary>
internal sealed class DidOpenHandler : IFeature
{
    public const string Method = "textDocument/didOpen";

    public void Register(FeatureRegistry registry)
    {
        registry.Capability(
            (offer, _) => offer with { TextDocumentSync = (offer.TextDocumentSync ?? new()) with { OpenClose = true } }
        );
        registry.Notification<DidOpenTextDocumentParams>(
            Method,
            (server, opened) => server.Workspace.Open(opened.TextDocument)
        );
    }
}

internal sealed record DidOpenTextDocumentParams(TextDocumentItem TextDocument);

internal sealed partial record TextDocumentSyncOptions
{
    public bool? OpenClose { get; init; }
}

internal sealed partial class MessageTypes
{
    public DidOpenTextDocumentParams? DidOpenTextDocumentParams { get; init; }
}
