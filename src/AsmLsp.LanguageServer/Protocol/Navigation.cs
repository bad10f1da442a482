namespace AsmLsp.LanguageServer.Protocol;

internal sealed record ReferenceContext(bool IncludeDeclaration);

internal sealed record ReferenceParams(TextDocumentIdentifier TextDocument, Position Position, ReferenceContext Context)
    : TextDocumentPositionParams(TextDocument, Position);

internal enum DocumentHighlightKind
{
    Text = 1,
    Read = 2,
    Write = 3,
}

internal sealed record DocumentHighlight(LspRange Range)
{
    public DocumentHighlightKind? Kind { get; init; }
}

internal sealed record SelectionRangeParams(TextDocumentIdentifier TextDocument, Position[] Positions);

internal sealed record SelectionRange(LspRange Range)
{
    public SelectionRange? Parent { get; init; }
}

internal sealed record LinkedEditingRanges(LspRange[] Ranges)
{
    public string? WordPattern { get; init; }
}

internal sealed record DocumentLinkOptions
{
    public bool? ResolveProvider { get; init; }
}

internal sealed record DocumentLink(LspRange Range)
{
    public string? Target { get; init; }
    public string? Tooltip { get; init; }
}
