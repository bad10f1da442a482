namespace AsmLsp.LanguageServer.Protocol;

/// <summary>What a hover shows; plain strings are for clients that declare no content format.</summary>
internal sealed record Hover(StringOr<MarkupContent> Contents)
{
    public LspRange? Range { get; init; }
}
