using System.Globalization;
using System.Text;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Text;
using AsmLsp.Host.Archive;
using AsmLsp.Host.Pictures;
using AsmLsp.Host.Recovering;

namespace AsmLsp.Host.Review;

/// <summary>
/// One page that holds the printed document and the recovered source side by side, so that a person can go from doubt to
/// doubt and compare. It needs nothing beside itself: no network, no other file, and no script to be read.
/// </summary>
public static class ReviewPage
{
    /// <summary>The page, to be written as UTF-8.</summary>
    /// <param name="document">The document and what was recovered from it.</param>
    /// <param name="version">The version of this program.</param>
    /// <param name="note">What a person should know about the state of the page, or null.</param>
    /// <param name="pictures">The pictures of the lines to compare, or null.</param>
    public static string Of(
        RecoveredDocument document,
        string version,
        string? note = null,
        DocumentPictures? pictures = null
    )
    {
        ArgumentNullException.ThrowIfNull(document);
        var html = new HtmlText();
        var stops = new ReviewStops(document.Result);
        IReadOnlyList<ReviewSheet> sheets = ReviewSheets.Of(document);
        Head(html, document, stops, version);
        Top(html, document, stops, [note, pictures?.Note]);
        html.Line("<main id=\"main\">");
        ReviewLists.Write(html, document.Result, stops);
        html.Markup("<h2>")
            .Text(document.Printed is null ? "The pasted text and its source" : "The printed pages and their source")
            .Line("</h2>");
        var shown = new ReviewPictures(html, pictures);
        foreach (ReviewStop stop in stops.All)
            if (!stop.Origin.IsNone)
                shown.Know(stop.Origin, stop);
        new SheetWriter(html, new ReviewRows(html, document.Result, stops, shown), shown).Write(sheets);
        for (int i = 0; i < document.Result.Files.Length; i++)
            PrintedFileSection(html, document, i, stops.Files[i], shown);
        html.Line("</main>");
        html.Line(
            "<footer><p>Lines of a page are counted with its header and footer, without empty space. Text only on the left was left out of the program. Text only on the right was added.</p></footer>"
        );
        html.Line("<script>").Markup(Resource("review.js")).Line("</script>");
        return html.Line("</body>").Line("</html>").ToString();
    }

    // A printed file beside its own rows; the rows of the pages around them are above, with the program.
    private static void PrintedFileSection(
        HtmlText html,
        RecoveredDocument document,
        int number,
        ReviewStops stops,
        ReviewPictures pictures
    )
    {
        PrintedFile file = document.Result.Files[number];
        string place = file.Pages.Length > 0 ? $", printed on {file.Pages}" : "";
        html.Element("<h2>", $"The included file {file.Name}{place}", "h2").Line("");
        html.Markup("<p>")
            .Text(
                $"The program includes {file.Name}, which the document prints by itself: it is to be beside the source."
            )
            .Line("</p>");
        string prefix = string.Create(CultureInfo.InvariantCulture, $"file-{number + 1}-");
        var rows = new ReviewRows(html, file.Result, stops, pictures, prefix);
        foreach (ReviewSheet sheet in ReviewSheets.Of(document with { Result = file.Result }))
        {
            sheet.Rows.RemoveAll(static r => r.IsLeftOut);
            if (sheet.Rows.Count > 0)
                rows.Write(
                    sheet,
                    sheet.Number == 0
                        ? "Pasted text"
                        : string.Create(CultureInfo.InvariantCulture, $"Page {sheet.Number}")
                );
        }
    }

    /// <summary>The name of the anchor of a printed or pasted line on the page.</summary>
    public static string AnchorOf(PrintedPlace place) =>
        place.Page == 0
            ? string.Create(CultureInfo.InvariantCulture, $"pasted-{place.Line}")
            : string.Create(
                CultureInfo.InvariantCulture,
                $"page-{place.Page}{(place.Line > 0 ? $"-line-{place.Line}" : "")}"
            );

    /// <summary>Whether a file is such a page; false where it cannot be read.</summary>
    public static bool IsOne(string path)
    {
        if (FileKinds.Of(path) != FileKind.Regular)
            return false;
        try
        {
            // The generator is near the top of the page.
            byte[] start = new byte[2048];
            using FileStream stream = File.OpenRead(path);
            int length = stream.ReadAtLeast(start, start.Length, throwOnEndOfStream: false);
            return start.AsSpan(0, length).IndexOf("<meta name=\"generator\" content=\"relist "u8) >= 0;
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            return false;
        }
    }

    private static void Head(HtmlText html, RecoveredDocument document, ReviewStops stops, string version)
    {
        html.Line("<!DOCTYPE html>").Line("<html lang=\"en\">").Line("<head>").Line("<meta charset=\"utf-8\"/>");
        html.Line("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>")
            .Line("<meta name=\"color-scheme\" content=\"light dark\"/>");
        html.Line(
            "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'; img-src data:; script-src 'unsafe-inline'\"/>"
        );
        html.Markup("<meta name=\"generator\" content=\"relist ").Text(version).Line("\"/>");
        html.Markup("<title>").Text($"{document.Name}: {Count(stops.Count, "place")} to compare").Line("</title>");
        html.Line("<style>").Markup(Resource("review.css")).Line("</style>").Line("</head>");
        html.Markup("<body data-document=\"").Markup(SumOf(document)).Line("\">");
        html.Line("<a class=\"skip\" href=\"#main\">To the listing</a>");
    }

    // What was ticked on the page is kept under the sum of its document.
    private static string SumOf(RecoveredDocument document) =>
        Checksums.Of(
            document.Bytes.IsEmpty
                ? Encoding.UTF8.GetBytes(document.Pasted?.ToString() ?? document.Name)
                : document.Bytes.Span
        );

    private static void Top(HtmlText html, RecoveredDocument document, ReviewStops stops, string?[] notes)
    {
        RecoveryResult result = document.Result;
        int errors = result.AllEntries.Count(static e => e.Severity == Severity.Error),
            doubts = stops.Count - errors;
        html.Line("<header>")
            .Markup("<h1>")
            .Text(document.Name)
            .Line(" <span class=\"soft\">and its recovered source</span></h1>");
        html.Markup("<p>")
            .Text(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{Count(result.Program.Image.ProgramWords, "word")} recovered for {Chip(result)}. "
                )
            );
        if (stops.Count == 0)
            html.Text("Nothing is in doubt and nothing is wrong.");
        else
        {
            string parts =
                errors == 0 ? Count(doubts, "doubt")
                : doubts == 0 ? Count(errors, "problem")
                : $"{Count(doubts, "doubt")} and {Count(errors, "problem")}";
            html.Markup("<strong>").Text(parts).Markup("</strong>").Text(" to compare with the page.");
        }

        html.Line("</p>");
        foreach (string note in notes.OfType<string>())
            html.Element("<p>", note, "p").Line("");
        html.Line("</header>");
        if (stops.Count == 0)
            return;
        html.Line("<nav class=\"steps\" aria-label=\"Doubts and problems\">");
        html.Markup("<a id=\"previous\" href=\"#")
            .Markup(ReviewStop.AnchorOf(stops.Count))
            .Line("\" aria-keyshortcuts=\"p\">&#8592; Previous</a>");
        html.Markup("<a id=\"next\" href=\"#")
            .Markup(ReviewStop.AnchorOf(1))
            .Line("\" aria-keyshortcuts=\"n\">Next &#8594;</a>");
        html.Markup("<span id=\"count\" role=\"status\">").Number(stops.Count).Line(" to look at</span>");
        html.Line("<span class=\"keys\">Keys: <kbd>n</kbd> next, <kbd>p</kbd> previous</span>").Line("</nav>");
    }

    private static string Chip(RecoveryResult result) =>
        result.Program.Device is { } device ? "a " + device.Name : "a chip that the source does not name";

    internal static string Count(int number, string what) =>
        string.Create(CultureInfo.InvariantCulture, $"{number} {what}{(number == 1 ? "" : "s")}");

    private static string Resource(string name)
    {
        using Stream stream =
            typeof(ReviewPage).Assembly.GetManifestResourceStream("AsmLsp.Host.Review." + name)
            ?? throw new InvalidOperationException($"{name} is not in this build.");
        using var reader = new StreamReader(stream, Encoding.UTF8);
        return reader.ReadToEnd();
    }
}
