using AsmLsp.Core.Explain;
using AsmLsp.Core.Text;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>textDocument/hover</c>: what there is to say about the thing under the cursor; nothing on blanks and comments.</summary>
internal sealed class HoverHandler : IFeature
{
    public void Register(FeatureRegistry registry)
    {
        registry.Capability((offer, _) => offer with { HoverProvider = true });
        registry.Request<TextDocumentPositionParams, Hover?>(
            Methods.Hover,
            (request, asked, _) => request.Asked(asked) is var (view, at) ? Handle(request, view, at) : null
        );
    }

    public static Hover? Handle(RequestContext request, FileView view, LinePosition at) =>
        view.File.Explain(at, view.ExplainOptions) is { } explanation
            ? new Hover(Contents(request, explanation))
            {
                Range = request.Range(view.Source, at.Line, explanation.Span),
            }
            : null;

    /// <summary>Clients that declare no format at all are old ones: they are given a plain string.</summary>
    private static StringOr<MarkupContent> Contents(RequestContext request, Explanation explanation) =>
        request.Profile.HoverMarkdown ? new MarkupContent(MarkupKind.Markdown, VisibleText.Of(explanation.Markdown))
        : request.Profile.HoverContentFormat
            ? new MarkupContent(MarkupKind.PlainText, VisibleText.Of(explanation.ToPlainText()))
        : VisibleText.Of(explanation.ToPlainText());
}
