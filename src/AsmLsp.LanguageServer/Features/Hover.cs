using AsmLsp.Core.Syntax;
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
        registry.Request<TextDocumentPositionParams, Hover?>(Methods.Hover, (request, asked, _) =>
            request.Asked(asked) is var (view, at) ? Handle(request, view, at) : null);
    }

    public static Hover? Handle(RequestContext request, FileView view, LinePosition at)
    {
        LineSyntax line = view.Line(at.Line);
        if (NameUse.WordAt(line, at.Column) is not { } word)
        {
            return null;
        }

        string text = line.Text.Substring(word.Start, word.Length);
        bool isOperation = line.OperationToken >= 0 && line.Tokens[line.OperationToken].Span == word;
        string? markdown = isOperation ? Documentation.OfOperation(text) : null;
        markdown ??= NameUse.At(view, at) is { } name ? Documentation.Of(view, "name", name.Name) : null;
        return markdown is null ? null : new Hover(Contents(request, markdown)) { Range = request.Range(view.File, at.Line, word) };
    }

    private static StringOr<MarkupContent> Contents(RequestContext request, string markdown) =>
        request.Profile.HoverMarkdown ? new MarkupContent(MarkupKind.Markdown, markdown) : Documentation.ForClient(markdown, showsMarkdown: false);
}
