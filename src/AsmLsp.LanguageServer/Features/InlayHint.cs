using AsmLsp.Ide.Reading;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary>
/// <c>textDocument/inlayHint</c>: behind a line its address and word, as printed listings show them in front, and its cycles; behind a name
/// or number what it comes to, where that is not what it looks like.
/// </summary>
internal sealed class InlayHintHandler : IFeature
{
    public void Register(FeatureRegistry registry)
    {
        registry.Capability(
            (offer, _) => offer with { InlayHintProvider = new InlayHintOptions { ResolveProvider = false } }
        );
        registry.Request<InlayHintParams, InlayHint[]>(
            Methods.InlayHint,
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
