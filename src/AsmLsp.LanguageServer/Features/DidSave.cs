using System.Text.Json.Serialization;
using AsmLsp.LanguageServer.Protocol;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>textDocument/didSave</c>; the text is not asked for, since ALE 3.3 sends it encoded twice; the file has it.</summary>
internal sealed class DidSaveHandler : IFeature
{
    public const string Method = "textDocument/didSave";

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
            Method,
            (server, saved) => server.Workspace.Saved(saved.TextDocument.Uri, saved.Text)
        );
    }
}

internal sealed record SaveOptions(bool IncludeText);

internal sealed record DidSaveTextDocumentParams(TextDocumentIdentifier TextDocument)
{
    public string? Text { get; init; }
}

internal sealed partial record TextDocumentSyncOptions
{
    [JsonConverter(typeof(BoolOrConverter<SaveOptions>))]
    public BoolOr<SaveOptions>? Save { get; init; }
}

internal sealed partial class MessageTypes
{
    public DidSaveTextDocumentParams? DidSaveTextDocumentParams { get; init; }
    public SaveOptions? SaveOptions { get; init; }
}
