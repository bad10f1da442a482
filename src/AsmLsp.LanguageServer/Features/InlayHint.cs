using System.Text.Json;
using System.Text.Json.Serialization;
using AsmLsp.Ide.Reading;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary>
/// <c>textDocument/inlayHint</c>: after a line its address and word, as printed listings show them in front, and its cycles; after a name
/// or number what it comes to, where that is not what it looks like.
/// </summary>
internal sealed class InlayHintHandler : IFeature
{
    public const string Method = "textDocument/inlayHint";

    public void Register(FeatureRegistry registry)
    {
        registry.Capability(
            (offer, _) => offer with { InlayHintProvider = new InlayHintOptions { ResolveProvider = false } }
        );
        registry.Request<InlayHintParams, InlayHint[]>(
            Method,
            (request, asked, cancellation) =>
                request.View(asked.TextDocument) is { } view ? Handle(request, view, asked.Range, cancellation) : []
        );
    }

    public static InlayHint[] Handle(
        RequestContext request,
        DocumentView view,
        LspRange range,
        CancellationToken cancellation
    )
    {
        var options = new HintOptions(
            request.Settings.HintWords,
            request.Settings.HintValues,
            request.Settings.HintCycles
        );
        return
        [
            .. InlineHints
                .Of(view.File, range.Start.Line, range.End.Line, options, cancellation)
                .Select(hint => new InlayHint(request.Positions.ToPosition(view.Text, hint.At), hint.Text)
                {
                    PaddingLeft = true,
                    Tooltip = hint.Tooltip is { } tooltip ? (StringOr<MarkupContent>)tooltip : null,
                })
                .Where(hint => hint.Position >= range.Start && hint.Position <= range.End),
        ];
    }
}

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

internal sealed record InlayHint(
    Position Position,
    [property: JsonConverter(typeof(StringOrConverter<InlayHintLabelPart[]>))] StringOr<InlayHintLabelPart[]> Label
)
{
    public InlayHintKind? Kind { get; init; }
    public LspTextEdit[]? TextEdits { get; init; }

    [JsonConverter(typeof(StringOrConverter<MarkupContent>))]
    public StringOr<MarkupContent>? Tooltip { get; init; }
    public bool? PaddingLeft { get; init; }
    public bool? PaddingRight { get; init; }
    public JsonElement? Data { get; init; }
}

internal sealed record InlayHintLabelPart(string Value)
{
    [JsonConverter(typeof(StringOrConverter<MarkupContent>))]
    public StringOr<MarkupContent>? Tooltip { get; init; }
    public Location? Location { get; init; }
    public Command? Command { get; init; }
}

internal sealed partial record ServerCapabilities
{
    [JsonConverter(typeof(BoolOrConverter<InlayHintOptions>))]
    public BoolOr<InlayHintOptions>? InlayHintProvider { get; init; }
}

internal sealed partial class MessageTypes
{
    public InlayHintParams? InlayHintParams { get; init; }
    public InlayHint[]? InlayHintList { get; init; }
    public InlayHintLabelPart[]? InlayHintLabelPartList { get; init; }
    public InlayHintOptions? InlayHintOptions { get; init; }
}
