using System.Globalization;
using System.Text.Json;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Text;
using AsmLsp.Host.Pictures;
using AsmLsp.Host.Review;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features.Commands;

/// <summary>
/// <c>relist.showPrinted URI LINE</c>: shows where a doubtful line (from 0) was printed: in the review page beside the source, else in the
/// document, else in words. Gives the place in words.
/// </summary>
internal sealed class ShowPrintedCommand : ICommand
{
    public const string CommandName = "relist.showPrinted";

    public string Name => CommandName;

    public async Task<JsonElement?> RunAsync(
        RequestContext request,
        JsonElement[] arguments,
        IntOrString? progress,
        CancellationToken cancellation
    )
    {
        string uri = arguments.Text(0, "the address of a document");
        int line =
            arguments.Length > 1
            && arguments[1].ValueKind == JsonValueKind.Number
            && arguments[1].TryGetInt32(out int given)
                ? given
                : -1;
        DocumentView view =
            request.Programs.Find(DocumentUri.Parse(uri))
            ?? throw LspException.Refused($"{uri} is neither open nor a file that can be read.");
        if (
            line < 0
            || line >= view.Text.LineCount
            || DoubtMark.Read(view.Text[line].Text) is not { FirstPlace: { } place } doubt
        )
        {
            throw LspException.Refused("The mark on this line does not say where it was printed.");
        }

        bool shown =
            AddressOf(DocumentUri.Parse(uri).Path, place) is { } address
            && await request
                .Server.Client.ShowDocumentAsync(new(address) { External = true }, cancellation)
                .ConfigureAwait(false);
        if (!shown)
        {
            request.Server.Client.ShowMessage(
                MessageType.Info,
                place.Page > 0 ? $"This line was printed on {doubt.Place}." : $"This line was pasted as {doubt.Place}."
            );
        }

        return LspJson.Element(doubt.Place);
    }

    /// <summary>The review page or the document beside a source, at the printed line; null where there is neither.</summary>
    private static string? AddressOf(string? source, PrintedPlace place)
    {
        if (source is null || Path.GetDirectoryName(source) is not { } folder)
        {
            return null;
        }

        // In an archive both have names of their own.
        foreach (
            string review in (string[])[Path.ChangeExtension(source, ".html"), Path.Combine(folder, "review.html")]
        )
        {
            if (ReviewPage.IsOne(review))
            {
                return $"{DocumentUri.FromPath(review).Text}#{ReviewPage.AnchorOf(place)}";
            }
        }

        if (place.Page > 0 && DocumentBeside.Of(source) is { } document)
        {
            // The form of the fragment that viewers of PDF files know (RFC 8118, section 3).
            return string.Create(
                CultureInfo.InvariantCulture,
                $"{DocumentUri.FromPath(document).Text}#page={place.Page}"
            );
        }

        return null;
    }
}
