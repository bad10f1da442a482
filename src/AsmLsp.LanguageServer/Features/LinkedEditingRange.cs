using AsmLsp.Core.Text;
using AsmLsp.Ide.Names;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>textDocument/linkedEditingRange</c>: a macro's own names, which are in its few lines only.</summary>
internal sealed class LinkedEditingRangeHandler : IFeature
{
    public const string Method = "textDocument/linkedEditingRange";

    public void Register(FeatureRegistry registry)
    {
        registry.Capability((offer, _) => offer with { LinkedEditingRangeProvider = true });
        registry.Request<TextDocumentPositionParams, LinkedEditingRanges?>(
            Method,
            (request, asked, _) => Handle(request, asked)
        );
    }

    public static LinkedEditingRanges? Handle(RequestContext request, TextDocumentPositionParams asked) =>
        request.Asked(asked) is var (view, at)
        && NamePlaces.EditedTogether(view.File, at).ToList() is { Count: > 0 } places
            ? new LinkedEditingRanges([.. places.Select(place => request.Range(place))])
            {
                WordPattern = "[A-Za-z_?][A-Za-z0-9_?.]*",
            }
            : null;
}

internal sealed record LinkedEditingRanges(LspRange[] Ranges)
{
    public string? WordPattern { get; init; }
}

internal sealed partial record ServerCapabilities
{
    public bool? LinkedEditingRangeProvider { get; init; }
}

internal sealed partial class MessageTypes
{
    public LinkedEditingRanges? LinkedEditingRanges { get; init; }
}
