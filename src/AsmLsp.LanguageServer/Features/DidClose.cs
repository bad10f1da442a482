using AsmLsp.LanguageServer.Protocol;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>textDocument/didClose</c>.</summary>
internal sealed class DidCloseHandler : IFeature
{
    public const string Method = "textDocument/didClose";

    public void Register(FeatureRegistry registry) =>
        registry.Notification<DidCloseTextDocumentParams>(
            Method,
            (server, closed) => server.Workspace.Close(closed.TextDocument.Uri)
        );
}

internal sealed record DidCloseTextDocumentParams(TextDocumentIdentifier TextDocument);

internal sealed partial class MessageTypes
{
    public DidCloseTextDocumentParams? DidCloseTextDocumentParams { get; init; }
}
