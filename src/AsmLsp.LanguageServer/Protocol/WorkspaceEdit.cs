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
    public Dictionary<string, ChangeAnnotation>? ChangeAnnotations { get; init; }
}

internal sealed record ChangeAnnotation(string Label)
{
    public bool? NeedsConfirmation { get; init; }
    public string? Description { get; init; }
}

[JsonConverter(typeof(DocumentChangeConverter))]
internal abstract record DocumentChange;

internal sealed record TextDocumentEdit(OptionalVersionedTextDocumentIdentifier TextDocument, LspTextEdit[] Edits)
    : DocumentChange;

internal sealed record CreateFile(string Uri) : DocumentChange
{
    public string Kind { get; init; } = "create";
    public FileChangeOptions? Options { get; init; }
    public string? AnnotationId { get; init; }
}

internal sealed record RenameFile(string OldUri, string NewUri) : DocumentChange
{
    public string Kind { get; init; } = "rename";
    public FileChangeOptions? Options { get; init; }
    public string? AnnotationId { get; init; }
}

internal sealed record DeleteFile(string Uri) : DocumentChange
{
    public string Kind { get; init; } = "delete";
    public DeleteFileOptions? Options { get; init; }
    public string? AnnotationId { get; init; }
}

internal sealed record FileChangeOptions
{
    public bool? Overwrite { get; init; }
    public bool? IgnoreIfExists { get; init; }
}

internal sealed record DeleteFileOptions
{
    public bool? Recursive { get; init; }
    public bool? IgnoreIfNotExists { get; init; }
}

internal sealed class DocumentChangeConverter : ObjectUnionConverter<DocumentChange>
{
    protected override Type Pick(JsonElement element) =>
        !element.TryGetProperty("kind", out JsonElement kind) ? typeof(TextDocumentEdit)
        : kind.ValueEquals("create") ? typeof(CreateFile)
        : kind.ValueEquals("rename") ? typeof(RenameFile)
        : kind.ValueEquals("delete") ? typeof(DeleteFile)
        : throw new JsonException("A file change is of the kind create, rename or delete.");
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
