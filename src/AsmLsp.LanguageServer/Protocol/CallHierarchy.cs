using System.Text.Json;

namespace AsmLsp.LanguageServer.Protocol;

internal sealed record CallHierarchyItem(
    string Name,
    SymbolKind Kind,
    string Uri,
    LspRange Range,
    LspRange SelectionRange
)
{
    public string? Detail { get; init; }
    public JsonElement? Data { get; init; }
}

internal sealed record CallHierarchyItemParams(CallHierarchyItem Item);

internal sealed record CallHierarchyIncomingCall(CallHierarchyItem From, LspRange[] FromRanges);

internal sealed record CallHierarchyOutgoingCall(CallHierarchyItem To, LspRange[] FromRanges);
