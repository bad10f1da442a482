namespace AsmLsp.LanguageServer.Protocol;

internal enum SignatureHelpTriggerKind
{
    Invoked = 1,
    TriggerCharacter = 2,
    ContentChange = 3,
}

internal sealed record SignatureHelpOptions
{
    public string[]? TriggerCharacters { get; init; }
    public string[]? RetriggerCharacters { get; init; }
}

internal sealed record SignatureHelpContext(SignatureHelpTriggerKind TriggerKind, bool IsRetrigger)
{
    public string? TriggerCharacter { get; init; }
}

internal sealed record SignatureHelpParams(TextDocumentIdentifier TextDocument, Position Position)
    : TextDocumentPositionParams(TextDocument, Position)
{
    public SignatureHelpContext? Context { get; init; }
}

internal sealed record SignatureHelp(SignatureInformation[] Signatures)
{
    public int? ActiveSignature { get; init; }
    public int? ActiveParameter { get; init; }
}

internal sealed record SignatureInformation(string Label)
{
    public StringOr<MarkupContent>? Documentation { get; init; }
    public ParameterInformation[]? Parameters { get; init; }
    public int? ActiveParameter { get; init; }
}

/// <summary>The label is a part of the signature's label: as text, or as [start, end) where the client reads offsets.</summary>
internal sealed record ParameterInformation(StringOr<int[]> Label)
{
    public StringOr<MarkupContent>? Documentation { get; init; }
}
