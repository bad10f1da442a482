namespace AsmLsp.LanguageServer.Protocol;

internal sealed record SemanticTokensLegend(string[] TokenTypes, string[] TokenModifiers);

internal sealed record SemanticTokensFullOptions(bool Delta);

internal sealed record SemanticTokensOptions(SemanticTokensLegend Legend)
{
    public bool? Range { get; init; }
    public BoolOr<SemanticTokensFullOptions>? Full { get; init; }
}

internal sealed record SemanticTokensDeltaParams(TextDocumentIdentifier TextDocument, string PreviousResultId);

internal sealed record SemanticTokensRangeParams(TextDocumentIdentifier TextDocument, LspRange Range);

/// <summary>The answer to a full or a delta request.</summary>
[System.Text.Json.Serialization.JsonConverter(typeof(SemanticTokensResultConverter))]
internal abstract record SemanticTokensResult
{
    public string? ResultId { get; init; }
}

/// <summary>Five numbers a token: line and start relative to the token before, length, type, modifiers.</summary>
internal sealed record SemanticTokens(int[] Data) : SemanticTokensResult;

internal sealed record SemanticTokensDelta(SemanticTokensEdit[] Edits) : SemanticTokensResult;

internal sealed record SemanticTokensEdit(int Start, int DeleteCount)
{
    public int[]? Data { get; init; }
}

internal sealed class SemanticTokensResultConverter : ObjectUnionConverter<SemanticTokensResult>
{
    protected override Type Pick(System.Text.Json.JsonElement element) =>
        element.TryGetProperty("edits", out _) ? typeof(SemanticTokensDelta) : typeof(SemanticTokens);
}
