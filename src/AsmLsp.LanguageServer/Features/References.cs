using AsmLsp.Ide.Names;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>textDocument/references</c>: everywhere that a name stands, in all files of the program; also names of the chip.</summary>
internal sealed class ReferencesHandler : IFeature
{
    public void Register(FeatureRegistry registry)
    {
        registry.Capability((offer, _) => offer with { ReferencesProvider = true });
        registry.Request<ReferenceParams, Location[]>(
            Methods.References,
            (request, asked, _) => Handle(request, asked)
        );
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
