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

    public static Location[] Handle(RequestContext request, ReferenceParams asked)
    {
        if (request.Asked(asked) is not var (view, at) || NameUse.At(view, at) is not { } name)
        {
            return [];
        }

        return
        [
            .. name.Everywhere(view)
                .Where(place => asked.Context.IncludeDeclaration || !place.IsDefinition)
                .Select(place => request.Location(view.Set, place.Place)),
        ];
    }
}
