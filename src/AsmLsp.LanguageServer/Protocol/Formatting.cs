namespace AsmLsp.LanguageServer.Protocol;

/// <summary>What the editor says about blanks; further keys that clients send are not read.</summary>
internal sealed record FormattingOptions(int TabSize, bool InsertSpaces)
{
    public bool? TrimTrailingWhitespace { get; init; }
    public bool? InsertFinalNewline { get; init; }
    public bool? TrimFinalNewlines { get; init; }
}

internal sealed record DocumentFormattingParams(TextDocumentIdentifier TextDocument, FormattingOptions Options);

internal sealed record DocumentRangeFormattingParams(
    TextDocumentIdentifier TextDocument,
    LspRange Range,
    FormattingOptions Options
);

internal sealed record DocumentOnTypeFormattingOptions(string FirstTriggerCharacter)
{
    public string[]? MoreTriggerCharacter { get; init; }
}

internal sealed record DocumentOnTypeFormattingParams(
    TextDocumentIdentifier TextDocument,
    Position Position,
    string Ch,
    FormattingOptions Options
);
