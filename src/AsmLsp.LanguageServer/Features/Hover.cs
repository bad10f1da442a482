using System.Text.Json.Serialization;
using AsmLsp.Core.Explain;
using AsmLsp.Core.Text;
using AsmLsp.Ide.HexFiles;
using AsmLsp.Ide.Reading;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary>
/// <c>textDocument/hover</c>: what there is to say about the thing under the cursor; nothing on blanks and comments, but for the mark of a doubt, which
/// comes with the picture of its printed line where the client shows Markdown and the document lies beside the source.
/// </summary>
internal sealed class HoverHandler : IFeature
{
    public const string Method = "textDocument/hover";

    public void Register(FeatureRegistry registry)
    {
        registry.Capability((offer, _) => offer with { HoverProvider = true });
        registry.RequestAsync<TextDocumentPositionParams, Hover?>(
            Method,
            async (request, asked, cancellation) =>
                request.Asked(asked) is var (view, at)
                    ? Handle(request, view, at)
                        ?? await OfDoubtAsync(request, view, at, asked.TextDocument, cancellation).ConfigureAwait(false)
                : request.Hex(asked.TextDocument) is { } hex ? OfHex(request, hex, asked.Position)
                : null
        );
    }

    public static Hover? Handle(RequestContext request, DocumentView view, LinePosition at) =>
        view.File.Explain(at, view.ExplainOptions) is { } explanation
            ? new Hover(Contents(request, explanation))
            {
                Range = request.Range(view.Source, at.Line, explanation.Span),
            }
            : null;

    private static async Task<Hover?> OfDoubtAsync(
        RequestContext request,
        DocumentView view,
        LinePosition at,
        TextDocumentIdentifier document,
        CancellationToken cancellation
    )
    {
        if (DoubtHover.At(view.Source.Text, at) is not { } doubt)
        {
            return null;
        }

        Explanation text = doubt.Text;
        if (request.Profile.HoverMarkdown && doubt.Printed.Page > 0)
        {
            text = text with
            {
                Markdown =
                    text.Markdown
                    + await request
                        .Server.PrintedLines.MarkdownAsync(
                            DocumentUri.Parse(document.Uri).Path,
                            doubt.Printed,
                            cancellation
                        )
                        .ConfigureAwait(false),
            };
        }

        return new Hover(Contents(request, text)) { Range = request.Range(view.Source, at.Line, text.Span) };
    }

    private static Hover? OfHex(RequestContext request, HexView hex, Position position) =>
        request.Positions.ToLinePosition(hex.File.Text, position) is var at
        && HexHover.At(hex.File, at) is { } explanation
            ? new Hover(Contents(request, explanation))
            {
                Range = request.Positions.ToRange(hex.File.Text, at.Line, explanation.Span.Start, explanation.Span.End),
            }
            : null;

    /// <summary>Clients that declare no format at all are old ones: they are given a plain string.</summary>
    private static StringOr<MarkupContent> Contents(RequestContext request, Explanation explanation) =>
        request.Profile.HoverMarkdown ? new MarkupContent(MarkupKind.Markdown, VisibleText.Of(explanation.Markdown))
        : request.Profile.HoverContentFormat
            ? new MarkupContent(MarkupKind.PlainText, VisibleText.Of(explanation.ToPlainText()))
        : VisibleText.Of(explanation.ToPlainText());
}

/// <summary>What a hover shows; plain strings are for clients that declare no content format.</summary>
internal sealed record Hover(
    [property: JsonConverter(typeof(StringOrConverter<MarkupContent>))] StringOr<MarkupContent> Contents
)
{
    public LspRange? Range { get; init; }
}

internal sealed partial record ServerCapabilities
{
    public bool? HoverProvider { get; init; }
}

internal sealed partial class MessageTypes
{
    public Hover? Hover { get; init; }
}

/// <summary>What a client declares about this.</summary>
internal static class HoverClient
{
    extension(ClientProfile client)
    {
        /// <summary>Whether hovers are shown as Markdown.</summary>
        public bool HoverMarkdown => client.Texts("textDocument.hover.contentFormat").Contains("markdown");

        /// <summary>Whether the client says at all what it shows hovers in.</summary>
        public bool HoverContentFormat => client.Has("textDocument.hover.contentFormat");
    }
}
