using System.Text.Json;

namespace AsmLsp.LanguageServer.Protocol;

internal enum CompletionItemKind
{
    Text = 1,
    Method = 2,
    Function = 3,
    Constructor = 4,
    Field = 5,
    Variable = 6,
    Class = 7,
    Interface = 8,
    Module = 9,
    Property = 10,
    Unit = 11,
    Value = 12,
    Enum = 13,
    Keyword = 14,
    Snippet = 15,
    Color = 16,
    File = 17,
    Reference = 18,
    Folder = 19,
    EnumMember = 20,
    Constant = 21,
    Struct = 22,
    Event = 23,
    Operator = 24,
    TypeParameter = 25,
}

internal enum InsertTextFormat
{
    PlainText = 1,
    Snippet = 2,
}

internal enum CompletionTriggerKind
{
    Invoked = 1,
    TriggerCharacter = 2,
    TriggerForIncompleteCompletions = 3,
}

internal sealed record CompletionOptions
{
    public string[]? TriggerCharacters { get; init; }
    public bool? ResolveProvider { get; init; }
}

internal sealed record CompletionContext(CompletionTriggerKind TriggerKind)
{
    public string? TriggerCharacter { get; init; }
}

internal sealed record CompletionParams(TextDocumentIdentifier TextDocument, Position Position)
    : TextDocumentPositionParams(TextDocument, Position)
{
    public CompletionContext? Context { get; init; }
}

internal sealed record CompletionList(bool IsIncomplete, CompletionItem[] Items);

internal sealed record CompletionItem(string Label)
{
    public CompletionItemLabelDetails? LabelDetails { get; init; }
    public CompletionItemKind? Kind { get; init; }
    public int[]? Tags { get; init; }
    public string? Detail { get; init; }
    public StringOr<MarkupContent>? Documentation { get; init; }
    public bool? Preselect { get; init; }
    public string? SortText { get; init; }
    public string? FilterText { get; init; }
    public string? InsertText { get; init; }
    public InsertTextFormat? InsertTextFormat { get; init; }
    public LspTextEdit? TextEdit { get; init; }
    public LspTextEdit[]? AdditionalTextEdits { get; init; }
    public string[]? CommitCharacters { get; init; }
    public Command? Command { get; init; }
    public JsonElement? Data { get; init; }
}

internal sealed record CompletionItemLabelDetails
{
    public string? Detail { get; init; }
    public string? Description { get; init; }
}
