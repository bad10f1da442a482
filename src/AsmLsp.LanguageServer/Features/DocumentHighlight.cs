using AsmLsp.Ide.Names;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>textDocument/documentHighlight</c>: the uses of a name in the file, those that write to a register distinguished.</summary>
internal sealed class DocumentHighlightHandler : IFeature
{
    public const string Method = "textDocument/documentHighlight";

    public void Register(FeatureRegistry registry)
    {
        registry.Capability((offer, _) => offer with { DocumentHighlightProvider = true });
        registry.Request<TextDocumentPositionParams, DocumentHighlight[]>(
            Method,
            (request, asked, _) => Handle(request, asked)
        );
    }

    public static DocumentHighlight[] Handle(RequestContext request, TextDocumentPositionParams asked) =>
        request.Asked(asked) is var (view, at)
            ?
            [
                .. Highlights
                    .At(view.File, at)
                    .Select(use => new DocumentHighlight(request.Range(use.Place))
                    {
                        Kind = use.IsWrite ? DocumentHighlightKind.Write : DocumentHighlightKind.Read,
                    }),
            ]
            : [];
}

internal enum DocumentHighlightKind
{
    Text = 1,
    Read = 2,
    Write = 3,
}

internal sealed record DocumentHighlight(LspRange Range)
{
    public DocumentHighlightKind? Kind { get; init; }
}

internal sealed partial record ServerCapabilities
{
    public bool? DocumentHighlightProvider { get; init; }
}

internal sealed partial class MessageTypes
{
    public DocumentHighlight[]? DocumentHighlightList { get; init; }
}
