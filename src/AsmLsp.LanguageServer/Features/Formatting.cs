using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>textDocument/formatting</c>: blanks only, and only where the program's words stay the same.</summary>
internal sealed class FormattingHandler : IFeature
{
    public void Register(FeatureRegistry registry)
    {
        registry.Capability((offer, _) => offer with { DocumentFormattingProvider = true });
        registry.Request<DocumentFormattingParams, LspTextEdit[]>(
            Methods.Formatting,
            (request, asked, _) =>
                request.View(asked.TextDocument) is { } view ? Layouts.Format(request, view, asked.Options, null) : []
        );
    }
}
