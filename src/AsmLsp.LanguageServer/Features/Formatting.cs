using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>textDocument/formatting</c>: blanks only, and only where the program's words stay the same.</summary>
internal sealed class FormattingHandler : IFeature
{
    public const string Method = "textDocument/formatting";

    public void Register(FeatureRegistry registry)
    {
        registry.Capability((offer, _) => offer with { DocumentFormattingProvider = true });
        registry.Request<DocumentFormattingParams, LspTextEdit[]>(
            Method,
            (request, asked, _) =>
                request.View(asked.TextDocument) is { } view ? Layouts.Format(request, view, asked.Options, null) : []
        );
    }
}

/// <summary>What the editor says about blanks; further keys that clients send are not read.</summary>
internal sealed record FormattingOptions(int TabSize, bool InsertSpaces)
{
    public bool? TrimTrailingWhitespace { get; init; }
    public bool? InsertFinalNewline { get; init; }
    public bool? TrimFinalNewlines { get; init; }
}

internal sealed record DocumentFormattingParams(TextDocumentIdentifier TextDocument, FormattingOptions Options);

internal sealed partial record ServerCapabilities
{
    public bool? DocumentFormattingProvider { get; init; }
}

internal sealed partial class MessageTypes
{
    public DocumentFormattingParams? DocumentFormattingParams { get; init; }
}
