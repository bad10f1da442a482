using AsmLsp.Ide.Structure;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>textDocument/foldingRange</c>: what the outline shows, choices and loops, runs of comment lines, runs of includes.</summary>
internal sealed class FoldingRangeHandler : IFeature
{
    public const string Method = "textDocument/foldingRange";

    public void Register(FeatureRegistry registry)
    {
        registry.Capability((offer, _) => offer with { FoldingRangeProvider = true });
        registry.Request<TextDocumentParams, FoldingRange[]>(
            Method,
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

internal static class FoldingRangeKind
{
    public const string Comment = "comment";
    public const string Imports = "imports";
    public const string Region = "region";
}

internal sealed record FoldingRange(int StartLine, int EndLine)
{
    public int? StartCharacter { get; init; }
    public int? EndCharacter { get; init; }
    public string? Kind { get; init; }
    public string? CollapsedText { get; init; }
}

internal sealed partial record ServerCapabilities
{
    public bool? FoldingRangeProvider { get; init; }
}

internal sealed partial class MessageTypes
{
    public FoldingRange[]? FoldingRangeList { get; init; }
}

/// <summary>What a client declares about this.</summary>
internal static class FoldingRangeClient
{
    extension(ClientProfile client)
    {
        /// <summary>The most ranges that it wants, or null.</summary>
        public int? FoldingLimit => client.Number("textDocument.foldingRange.rangeLimit");
    }
}
