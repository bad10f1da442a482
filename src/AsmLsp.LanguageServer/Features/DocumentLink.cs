using AsmLsp.Ide.Names;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>textDocument/documentLink</c>: includes lead to their files.</summary>
internal sealed class DocumentLinkHandler : IFeature
{
    public const string Method = "textDocument/documentLink";

    public void Register(FeatureRegistry registry)
    {
        registry.Capability((offer, _) => offer with { DocumentLinkProvider = new() { ResolveProvider = false } });
        registry.Request<TextDocumentParams, DocumentLink[]>(
            Method,
            (request, asked, _) => request.View(asked.TextDocument) is { } view ? Handle(request, view) : []
        );
    }

    public static DocumentLink[] Handle(RequestContext request, DocumentView view) =>
        [
            .. NamePlaces
                .Includes(view.File)
                .Select(include => new DocumentLink(request.Range(include.Place))
                {
                    Target = view.Programs.UriOf(include.Target).Text,
                    Tooltip = $"Open {include.Target.ShortName}",
                }),
        ];
}

internal sealed record DocumentLinkOptions
{
    public bool? ResolveProvider { get; init; }
}

internal sealed record DocumentLink(LspRange Range)
{
    public string? Target { get; init; }
    public string? Tooltip { get; init; }
}

internal sealed partial record ServerCapabilities
{
    public DocumentLinkOptions? DocumentLinkProvider { get; init; }
}

internal sealed partial class MessageTypes
{
    public DocumentLink[]? DocumentLinkList { get; init; }
}
