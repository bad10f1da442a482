using AsmLsp.Ide.Names;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>textDocument/references</c>: everywhere that a name is, in all files of the program; also names of the chip.</summary>
internal sealed class ReferencesHandler : IFeature
{
    public const string Method = "textDocument/references";

    public void Register(FeatureRegistry registry)
    {
        registry.Capability((offer, _) => offer with { ReferencesProvider = true });
        registry.Request<ReferenceParams, Location[]>(Method, (request, asked, _) => Handle(request, asked));
    }

    public static Location[] Handle(RequestContext request, ReferenceParams asked) =>
        request.Asked(asked) is var (view, at)
            ?
            [
                .. NamePlaces
                    .References(view.File, at, asked.Context.IncludeDeclaration)
                    .Select(place => request.Location(view.Programs, place)),
            ]
            : [];
}

internal sealed record ReferenceContext(bool IncludeDeclaration);

internal sealed record ReferenceParams(TextDocumentIdentifier TextDocument, Position Position, ReferenceContext Context)
    : TextDocumentPositionParams(TextDocument, Position);

internal sealed partial record ServerCapabilities
{
    public bool? ReferencesProvider { get; init; }
}

internal sealed partial class MessageTypes
{
    public ReferenceParams? ReferenceParams { get; init; }
}
