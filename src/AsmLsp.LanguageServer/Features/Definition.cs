using AsmLsp.Core.Assembly;
using AsmLsp.Core.Text;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>textDocument/definition</c>: where a name is defined, or the file that an include brings.</summary>
internal sealed class DefinitionHandler : IFeature
{
    public void Register(FeatureRegistry registry)
    {
        registry.Capability((offer, _) => offer with { DefinitionProvider = true });
        registry.Request<TextDocumentPositionParams, Location[]>(
            Methods.Definition,
            (request, asked, _) => Handle(request, asked)
        );
    }

    public static Location[] Handle(RequestContext request, TextDocumentPositionParams asked)
    {
        if (request.Asked(asked) is not var (view, at))
        {
            return [];
        }

        foreach (IncludeUse include in view.Analysis.Includes)
        {
            if (
                include.Place.File == view.File
                && include.Place.Line == at.Line
                && include.Place.Columns.Touches(at.Column)
            )
            {
                return include.File is { } file ? [request.Location(view.Set, new SourcePlace(file, 0, default))] : [];
            }
        }

        return NameUse.At(view, at) is { } name
            ? [.. name.Definitions(view).Select(place => request.Location(view.Set, place.Place))]
            : [];
    }
}
