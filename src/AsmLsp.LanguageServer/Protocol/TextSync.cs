using System.Text.Json.Serialization;

namespace AsmLsp.LanguageServer.Protocol;

internal enum TextDocumentSyncKind
{
    None = 0,
    Full = 1,
    Incremental = 2,
}

internal sealed record TextDocumentSyncOptions
{
    public bool? OpenClose { get; init; }
    public TextDocumentSyncKind? Change { get; init; }
    public bool? WillSave { get; init; }
    public bool? WillSaveWaitUntil { get; init; }
    public BoolOr<SaveOptions>? Save { get; init; }
}

internal sealed record SaveOptions(bool IncludeText);

internal sealed record DidOpenTextDocumentParams(TextDocumentItem TextDocument);

internal sealed record DidChangeTextDocumentParams(
    VersionedTextDocumentIdentifier TextDocument,
    TextDocumentContentChangeEvent[] ContentChanges
) : IJsonOnDeserialized
{
    void IJsonOnDeserialized.OnDeserialized() => ListEntries.Check(ContentChanges);
}

/// <summary>One change; without a range the text is the whole new document.</summary>
internal sealed record TextDocumentContentChangeEvent(string Text)
{
    public LspRange? Range { get; init; }
}

internal sealed record DidSaveTextDocumentParams(TextDocumentIdentifier TextDocument)
{
    public string? Text { get; init; }
}

internal sealed record DidCloseTextDocumentParams(TextDocumentIdentifier TextDocument);

internal enum TextDocumentSaveReason
{
    Manual = 1,
    AfterDelay = 2,
    FocusOut = 3,
}

internal sealed record WillSaveTextDocumentParams(TextDocumentIdentifier TextDocument, TextDocumentSaveReason Reason);
