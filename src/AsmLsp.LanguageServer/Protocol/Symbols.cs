using System.Text.Json;

namespace AsmLsp.LanguageServer.Protocol;

internal enum SymbolKind
{
    File = 1,
    Module = 2,
    Namespace = 3,
    Package = 4,
    Class = 5,
    Method = 6,
    Property = 7,
    Field = 8,
    Constructor = 9,
    Enum = 10,
    Interface = 11,
    Function = 12,
    Variable = 13,
    Constant = 14,
    String = 15,
    Number = 16,
    Boolean = 17,
    Array = 18,
    Object = 19,
    Key = 20,
    Null = 21,
    EnumMember = 22,
    Struct = 23,
    Event = 24,
    Operator = 25,
    TypeParameter = 26,
}

/// <summary>The answer to <c>textDocument/documentSymbol</c>: a tree, or a flat list for clients that declare no tree.</summary>
[System.Text.Json.Serialization.JsonConverter(typeof(DocumentSymbolEntryConverter))]
internal abstract record DocumentSymbolEntry;

internal sealed record DocumentSymbol(string Name, SymbolKind Kind, LspRange Range, LspRange SelectionRange)
    : DocumentSymbolEntry
{
    public string? Detail { get; init; }
    public DocumentSymbol[]? Children { get; init; }
}

internal sealed record SymbolInformation(string Name, SymbolKind Kind, Location Location) : DocumentSymbolEntry
{
    public string? ContainerName { get; init; }
}

internal sealed class DocumentSymbolEntryConverter : ObjectUnionConverter<DocumentSymbolEntry>
{
    protected override Type Pick(JsonElement element) =>
        element.TryGetProperty("location", out _) ? typeof(SymbolInformation) : typeof(DocumentSymbol);
}

internal sealed record WorkspaceSymbolOptions
{
    public bool? ResolveProvider { get; init; }
}

internal sealed record WorkspaceSymbolParams(string Query)
{
    public IntOrString? WorkDoneToken { get; init; }
    public IntOrString? PartialResultToken { get; init; }
}
