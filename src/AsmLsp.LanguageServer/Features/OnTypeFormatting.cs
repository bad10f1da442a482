using AsmLsp.Core.Layout;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>textDocument/onTypeFormatting</c>: after a line break, the line that was just left and no other.</summary>
internal sealed class OnTypeFormattingHandler : IFeature
{
    public const string Method = "textDocument/onTypeFormatting";

    public void Register(FeatureRegistry registry)
    {
        registry.Capability((offer, _) => offer with { DocumentOnTypeFormattingProvider = new("\n") });
        registry.Request<DocumentOnTypeFormattingParams, LspTextEdit[]>(
            Method,
            (request, asked, _) =>
                asked.Position.Line > 0 && request.View(asked.TextDocument) is { } view
                    ? Layouts.Format(
                        request,
                        view,
                        asked.Options,
                        new LineRange(asked.Position.Line - 1, asked.Position.Line - 1)
                    )
                    : []
        );
    }
}

internal sealed record DocumentOnTypeFormattingOptions(string FirstTriggerCharacter)
{
    public string[]? MoreTriggerCharacter { get; init; }
}

internal sealed record DocumentOnTypeFormattingParams(
    TextDocumentIdentifier TextDocument,
    Position Position,
    string Ch,
    FormattingOptions Options
);

internal sealed partial record ServerCapabilities
{
    public DocumentOnTypeFormattingOptions? DocumentOnTypeFormattingProvider { get; init; }
}

internal sealed partial class MessageTypes
{
    public DocumentOnTypeFormattingParams? DocumentOnTypeFormattingParams { get; init; }
}
