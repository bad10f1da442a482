using System.Globalization;
using AsmLsp.Core.Text;
using AsmLsp.Host.Pictures;

namespace AsmLsp.Host.Review;

/// <summary>The pictures of the review page: each doubtful line as it is printed, and its page with the line framed. They are part of the file.</summary>
internal sealed class ReviewPictures(HtmlText html, DocumentPictures? pictures)
{
    // A printed line is shown somewhat larger than on paper (a page of CSS has 96 dots per inch).
    private const double Enlarged = 96 * 1.35;

    // The anchors of the doubts that frames lead to, by the name of the area.
    private readonly Dictionary<string, string> stops = [];

    /// <summary>Whether a line has a picture of its page, so that a link can lead there.</summary>
    public string? FrameOf(LineOrigin origin) =>
        pictures?.Of(origin).FirstOrDefault(p => pictures.OfPage(p.Area.Page) is not null) is { } picture
            ? AnchorOf(picture.Area)
            : null;

    /// <summary>Keeps where a doubt is, for the frame on its page.</summary>
    public void Know(LineOrigin origin, ReviewStop stop)
    {
        foreach (LinePicture picture in pictures?.Of(origin) ?? [])
            stops.TryAdd(picture.Area.Name, stop.Anchor);
    }

    /// <summary>Whether there is a picture of a line.</summary>
    public bool Has(LineOrigin origin) => pictures?.Of(origin).Any() == true;

    /// <summary>The pictures of the printed lines that a source line comes of.</summary>
    public void Lines(LineOrigin origin)
    {
        foreach (LinePicture picture in pictures?.Of(origin) ?? [])
        {
            bool hasPage = pictures!.OfPage(picture.Area.Page) is not null;
            html.Markup("<p class=\"cut\">");
            if (hasPage)
                html.Markup("<a href=\"#").Markup(AnchorOf(picture.Area)).Markup("\">");
            double scale = Enlarged / picture.DotsPerInch;
            Image(
                picture.Png,
                (int)Math.Ceiling(picture.Width * scale),
                (int)Math.Ceiling(picture.Height * scale),
                $"Picture of {picture.Area.Place}"
            );
            html.Markup(hasPage ? "</a>" : "").Line("</p>");
        }
    }

    /// <summary>The picture of a page with its frames, closed at first.</summary>
    public void Page(int number)
    {
        if (pictures?.OfPage(number) is not { } page)
            return;
        html.Markup("<details class=\"paper\"><summary>Picture of page ").Number(number);
        if (!page.Frames.IsEmpty)
            html.Markup(page.Frames.Length == 1 ? ", with the line to compare" : ", with the lines to compare");
        html.Line("</summary><div class=\"paper\">");
        Image(
            page.Png,
            page.Width,
            page.Height,
            string.Create(CultureInfo.InvariantCulture, $"Page {number} of the document")
        );
        foreach (LineFrame frame in page.Frames)
        {
            html.Markup("<a class=\"frame\" id=\"")
                .Markup(AnchorOf(frame.Area))
                .Markup("\" href=\"#")
                .Markup(stops.GetValueOrDefault(frame.Area.Name, "main"))
                .Markup("\" style=\"left:")
                .Markup(Part(frame.Left))
                .Markup(";top:")
                .Markup(Part(frame.Top))
                .Markup(";width:")
                .Markup(Part(frame.Right - frame.Left))
                .Markup(";height:")
                .Markup(Part(frame.Bottom - frame.Top))
                .Markup("\"><span class=\"hidden\">Line ")
                .Number(frame.Area.FirstLine)
                .Line(": back to its doubt</span></a>");
        }

        html.Line("</div></details>");
    }

    private static string AnchorOf(PrintedArea area) => "frame-" + area.Name;

    private static string Part(double part) => string.Create(CultureInfo.InvariantCulture, $"{part * 100:0.##}%");

    private void Image(byte[] png, int width, int height, string words) =>
        html.Markup("<img src=\"data:image/png;base64,")
            .Markup(Convert.ToBase64String(png))
            .Markup("\" width=\"")
            .Number(width)
            .Markup("\" height=\"")
            .Number(height)
            .Markup("\" alt=\"")
            .Text(words)
            .Markup("\"/>");
}
