namespace AsmLsp.LanguageServer.Protocol;

internal sealed record RenameOptions
{
    public bool? PrepareProvider { get; init; }
}

internal sealed record RenameParams(TextDocumentIdentifier TextDocument, Position Position, string NewName)
    : TextDocumentPositionParams(TextDocument, Position);

/// <summary>What would be renamed, and the text to start from.</summary>
internal sealed record PrepareRenameResult(LspRange Range, string Placeholder);
