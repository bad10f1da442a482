using AsmLsp.Ide.Structure;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>textDocument/foldingRange</c>: what the outline shows, choices and loops, runs of comment lines, runs of includes.</summary>
internal sealed class FoldingRangeHandler : IFeature
{
    public void Register(FeatureRegistry registry)
    {
        registry.Capability((offer, _) => offer with { FoldingRangeProvider = true });
        registry.Request<TextDocumentParams, FoldingRange[]>(
            Methods.FoldingRange,
            (request, asked, _) =>
                request.View(asked.TextDocument) is { } view ? Handle(view, request.Profile.FoldingLimit) : []
        );
    }

    public static FoldingRange[] Handle(DocumentView view, int? limit)
    {
        IEnumerable<Fold> folds = Folds.Of(view.File);
        if (limit is { } most and >= 0)
        {
            folds = folds.Take(most);
        }

        return
        [
            .. folds.Select(fold => new FoldingRange(fold.FirstLine, fold.LastLine)
            {
                Kind = fold.Kind switch
                {
                    FoldKind.Comment => FoldingRangeKind.Comment,
                    FoldKind.Includes => FoldingRangeKind.Imports,
                    _ => null,
                },
            }),
        ];
    }
}
