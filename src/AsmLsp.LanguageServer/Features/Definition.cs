using AsmLsp.Ide.Names;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>textDocument/definition</c>: where a name is defined, or the file that an include brings.</summary>
internal sealed class DefinitionHandler : IFeature
{
    public const string Method = "textDocument/definition";

    public void Register(FeatureRegistry registry)
    {
        registry.Capability((offer, _) => offer with { DefinitionProvider = true });
        registry.Request<TextDocumentPositionParams, Location[]>(Method, (request, asked, _) => Handle(request, asked));
    }

    public static Location[] Handle(RequestContext request, TextDocumentPositionParams asked) =>
        request.Asked(asked) is var (view, at)
            ? [.. NamePlaces.Definitions(view.File, at).Select(place => request.Location(view.Programs, place))]
            : [];
}

internal sealed partial record ServerCapabilities
{
    public bool? DefinitionProvider { get; init; }
}
