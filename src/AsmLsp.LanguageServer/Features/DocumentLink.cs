using AsmLsp.Core.Assembly;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>textDocument/documentLink</c>: includes lead to their files.</summary>
internal sealed class DocumentLinkHandler : IFeature
{
    public void Register(FeatureRegistry registry)
    {
        registry.Capability((offer, _) => offer with { DocumentLinkProvider = new() { ResolveProvider = false } });
        registry.Request<TextDocumentParams, DocumentLink[]>(
            Methods.DocumentLink,
            (request, asked, _) => request.View(asked.TextDocument) is { } view ? Handle(request, view) : []
        );
    }

    public static DocumentLink[] Handle(RequestContext request, FileView view)
    {
        var links = new List<DocumentLink>();
        foreach (IncludeUse include in view.Analysis.Includes)
        {
            if (include.Place.File == view.File && include.File is { } file)
            {
                links.Add(
                    new DocumentLink(request.Range(include.Place))
                    {
                        Target = view.Set.UriOf(file).Text,
                        Tooltip = $"Open {file.ShortName}",
                    }
                );
            }
        }

        return [.. links];
    }
}
