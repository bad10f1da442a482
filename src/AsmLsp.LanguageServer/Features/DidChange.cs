using System.Text.Json.Serialization;
using AsmLsp.LanguageServer.Protocol;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>textDocument/didChange</c>: parts are asked for; whole texts, which some clients send anyway, are taken too.</summary>
internal sealed class DidChangeHandler : IFeature
{
    public const string Method = "textDocument/didChange";

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
            Method,
            (server, change) => server.Workspace.Edit(change.TextDocument, change.ContentChanges, server.Positions)
        );
    }
}

internal enum TextDocumentSyncKind
{
    None = 0,
    Full = 1,
    Incremental = 2,
}

internal sealed record DidChangeTextDocumentParams(
    VersionedTextDocumentIdentifier TextDocument,
    TextDocumentContentChangeEvent[] ContentChanges
) : IJsonOnDeserialized
{
    void IJsonOnDeserialized.OnDeserialized() => ListEntries.Check(ContentChanges);
}

internal sealed partial record TextDocumentSyncOptions
{
    public TextDocumentSyncKind? Change { get; init; }
}

internal sealed partial class MessageTypes
{
    public DidChangeTextDocumentParams? DidChangeTextDocumentParams { get; init; }
}
