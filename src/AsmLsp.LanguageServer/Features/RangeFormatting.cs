using AsmLsp.Core.Layout;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>textDocument/rangeFormatting</c>: the lines that the range touches.</summary>
internal sealed class RangeFormattingHandler : IFeature
{
    public const string Method = "textDocument/rangeFormatting";

    public void Register(FeatureRegistry registry)
    {
        registry.Capability((offer, _) => offer with { DocumentRangeFormattingProvider = true });
        registry.Request<DocumentRangeFormattingParams, LspTextEdit[]>(
            Method,
            (request, asked, _) =>
                request.View(asked.TextDocument) is { } view
                    ? Layouts.Format(request, view, asked.Options, LinesOf(asked.Range))
                    : []
        );
    }

    /// <summary>A range that ends before the first character of a line does not touch that line.</summary>
    private static LineRange LinesOf(LspRange range) =>
        new(
            range.Start.Line,
            range.End.Line > range.Start.Line && range.End.Character == 0 ? range.End.Line - 1 : range.End.Line
        );
}

internal sealed record DocumentRangeFormattingParams(
    TextDocumentIdentifier TextDocument,
    LspRange Range,
    FormattingOptions Options
);

internal sealed partial record ServerCapabilities
{
    public bool? DocumentRangeFormattingProvider { get; init; }
}

internal sealed partial class MessageTypes
{
    public DocumentRangeFormattingParams? DocumentRangeFormattingParams { get; init; }
}
