using System.Collections.Immutable;
using System.Text;
using AsmLsp.Core.Explain;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Text;
using AsmLsp.Host.Pictures;

namespace AsmLsp.LanguageServer.Workspace;

/// <summary>The pictures of printed lines for hovers. Whoever hovers does not wait for long: a picture that takes longer is there the next time.</summary>
/// <param name="reader">Makes a reader of printed documents; null where there is none.</param>
/// <param name="clock">The clock.</param>
/// <param name="stopping">Ends with the session.</param>
internal sealed class PrintedLines(
    Func<ImmutableHashSet<int>, IPrintedDocumentReader>? reader,
    TimeProvider clock,
    CancellationToken stopping
)
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(2.5);

    private readonly PictureCache? cache = reader is null ? null : new(CacheFolder.For("pictures"), reader);

    /// <summary>Keeps a document that was read anyway, so that it need not be read for its pictures.</summary>
    public void Remember(string path, ReadOnlyMemory<byte> bytes, PrintedDocument print) =>
        _ = cache?.RememberAsync(path, bytes, print);

    /// <summary>The pictures of a printed line as Markdown, to be put after a text; empty where there is none.</summary>
    /// <param name="source">The path of the source; null where it is no file.</param>
    /// <param name="origin">Where the line was printed.</param>
    /// <param name="cancellation">Ends the waiting.</param>
    public async Task<string> MarkdownAsync(string? source, LineOrigin origin, CancellationToken cancellation)
    {
        if (cache is null || source is null || DocumentBeside.Of(source) is not { } document)
        {
            return "";
        }

        Task<ImmutableArray<CachedPicture>> drawing = cache.PicturesAsync(document, origin, stopping);
        try
        {
            await drawing.WaitAsync(Patience, clock, cancellation).ConfigureAwait(false);
        }
        catch (TimeoutException)
        {
            return "\n\nThe picture of the line is being drawn. Hover again in a moment.";
        }

        var text = new StringBuilder();
        foreach (CachedPicture picture in await drawing.ConfigureAwait(false))
        {
            text.Append("\n\n![")
                .Append(MarkdownText.Escape($"{Path.GetFileName(document)}, {picture.Place}"))
                .Append("](")
                .Append(DocumentUri.FromPath(picture.Path).Text)
                .Append(')');
        }

        return text.ToString();
    }
}
