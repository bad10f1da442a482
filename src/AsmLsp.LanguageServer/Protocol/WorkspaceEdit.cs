using System.Text.Json;
using System.Text.Json.Serialization;

namespace AsmLsp.LanguageServer.Protocol;

/// <summary>
/// Edits over several documents: <see cref="Changes"/> for clients that declare nothing,
/// <see cref="DocumentChanges"/> where the client declares it (never both).
/// </summary>
internal sealed record WorkspaceEdit
{
    public Dictionary<string, LspTextEdit[]>? Changes { get; init; }
    public DocumentChange[]? DocumentChanges { get; init; }
}

[JsonConverter(typeof(DocumentChangeConverter))]
internal abstract record DocumentChange;

internal sealed record TextDocumentEdit(OptionalVersionedTextDocumentIdentifier TextDocument, LspTextEdit[] Edits)
    : DocumentChange;

internal sealed record CreateFile(string Uri) : DocumentChange
{
    public string Kind { get; init; } = "create";
    public FileChangeOptions? Options { get; init; }
}

internal sealed record FileChangeOptions
{
    public bool? Overwrite { get; init; }
    public bool? IgnoreIfExists { get; init; }
}

internal sealed class DocumentChangeConverter : ObjectUnionConverter<DocumentChange>
{
    protected override Type Pick(JsonElement element) =>
        !element.TryGetProperty("kind", out JsonElement kind) ? typeof(TextDocumentEdit)
        : kind.ValueEquals("create") ? typeof(CreateFile)
        : throw new JsonException("The only file change in use is of the kind create.");
}

internal sealed record ApplyWorkspaceEditParams(WorkspaceEdit Edit)
{
    public string? Label { get; init; }
}

internal sealed record ApplyWorkspaceEditResult(bool Applied)
{
    public string? FailureReason { get; init; }
    public int? FailedChange { get; init; }
}
