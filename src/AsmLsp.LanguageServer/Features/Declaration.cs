using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary>
/// <c>textDocument/declaration</c>: where a name is made known. In this language that is its first definition; a macro's local name is made
/// known by <c>local</c>.
/// </summary>
internal sealed class DeclarationHandler : IFeature
{
    public const string Method = "textDocument/declaration";

    public void Register(FeatureRegistry registry)
    {
        registry.Capability((offer, _) => offer with { DeclarationProvider = true });
        registry.Request<TextDocumentPositionParams, Location[]>(
            Method,
            (request, asked, _) => [.. DefinitionHandler.Handle(request, asked).Take(1)]
        );
    }
}

internal sealed partial record ServerCapabilities
{
    public bool? DeclarationProvider { get; init; }
}
