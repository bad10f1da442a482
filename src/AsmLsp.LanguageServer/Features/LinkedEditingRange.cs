using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>textDocument/linkedEditingRange</c>: a macro's own names, which stand in its few lines only.</summary>
internal sealed class LinkedEditingRangeHandler : IFeature
{
    public void Register(FeatureRegistry registry)
    {
        registry.Capability((offer, _) => offer with { LinkedEditingRangeProvider = true });
        registry.Request<TextDocumentPositionParams, LinkedEditingRanges?>(
            Methods.LinkedEditingRange,
            (request, asked, _) =>
                request.Asked(asked) is var (view, at) && NameUse.At(view, at) is { Kind: NameKind.MacroOwn } name
                    ? new LinkedEditingRanges([.. name.Everywhere(view).Select(place => request.Range(place.Place))])
                    {
                        WordPattern = "[A-Za-z_?][A-Za-z0-9_?.]*",
                    }
                    : null
        );
    }
}
