using System.Text.Json;

namespace AsmLsp.LanguageServer.Protocol;

internal enum InlayHintKind
{
    Type = 1,
    Parameter = 2,
}

internal sealed record InlayHintOptions
{
    public bool? ResolveProvider { get; init; }
}

internal sealed record InlayHintParams(TextDocumentIdentifier TextDocument, LspRange Range);

internal sealed record InlayHint(Position Position, StringOr<InlayHintLabelPart[]> Label)
{
    public InlayHintKind? Kind { get; init; }
    public LspTextEdit[]? TextEdits { get; init; }
    public StringOr<MarkupContent>? Tooltip { get; init; }
    public bool? PaddingLeft { get; init; }
    public bool? PaddingRight { get; init; }
    public JsonElement? Data { get; init; }
}

internal sealed record InlayHintLabelPart(string Value)
{
    public StringOr<MarkupContent>? Tooltip { get; init; }
    public Location? Location { get; init; }
    public Command? Command { get; init; }
}
