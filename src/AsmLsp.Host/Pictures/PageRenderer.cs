using System.Diagnostics;
using System.Globalization;
using AsmLsp.Core.Printed;
using AsmLsp.Host.Scans;

namespace AsmLsp.Host.Pictures;

/// <summary>
/// Draws the pages of one document with poppler's pdftoppm, a program of its own that runs for a bounded time in a private folder that is gone afterward.
/// A picture file is made a PDF by tesseract first. No argument of either comes from the document.
/// </summary>
internal sealed class PageRenderer : IDisposable
{
    private const string Document = "document.pdf",
        Drawn = "drawn.pgm";

    // A coarser picture shows no letters.
    private const double LeastResolution = 50;

    // A page whose size nobody knows is drawn so high: that of a sheet of A4 at 200 dots per inch.
    private const int UnknownHeight = 2340;

    // Scanned pictures are taken as so fine, as when they were read.
    private const int PictureDots = 300;

    private readonly PictureLimits limits;
    private readonly string tool;
    private readonly string folder;
    private readonly CancellationToken cancellation;
    private readonly long started = Stopwatch.GetTimestamp();

    private PageRenderer(PictureLimits limits, string tool, string folder, CancellationToken cancellation) =>
        (this.limits, this.tool, this.folder, this.cancellation) = (limits, tool, folder, cancellation);

    /// <summary>Whether there is time left for another page.</summary>
    public bool HasTime => Left > TimeSpan.Zero;

    private TimeSpan Left => limits.Time - Stopwatch.GetElapsedTime(started);

    private TimeSpan LeftForPage => Left < limits.TimeOfPage ? Left : limits.TimeOfPage;

    /// <summary>Makes ready to draw a document; gives null, and why in words, where it can't be drawn.</summary>
    public static PageRenderer? Open(
        ReadOnlyMemory<byte> file,
        ScanTools tools,
        PictureLimits limits,
        CancellationToken cancellation,
        out string? why
    )
    {
        DocumentFileKind kind = DocumentFile.KindOf(file.Span);
        why =
            kind is not (DocumentFileKind.Pdf or DocumentFileKind.Picture) ? "only a PDF or a scanned page has pictures"
            : tools.HowToDraw(kind) is { } missing ? missing
            : file.Length > limits.FileBytes ? $"the file is larger than {limits.FileBytes / (1024 * 1024)} MB"
            : null;
        if (why is not null)
            return null;
        PageRenderer? opened = null;
        try
        {
            // Only its owner can look into it.
            string folder = Directory.CreateTempSubdirectory("relist-pages-").FullName;
            opened = new PageRenderer(limits, tools.PdfToPpm!, folder, cancellation);
            if (kind == DocumentFileKind.Pdf)
            {
                using FileStream copy = File.Create(Path.Combine(folder, Document));
                copy.Write(file.Span);
                return opened;
            }

            ToolEnd end = PictureWrap.Make(
                file,
                tools.Tesseract!,
                folder,
                Document,
                PictureDots,
                limits.Time,
                cancellation
            );
            if (end == ToolEnd.Done)
                return opened;
            why = end == ToolEnd.TooLong ? "drawing takes too long" : "the picture can't be read";
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            why = $"the pages could not be drawn: {fault.Message}";
        }
        catch (OperationCanceledException)
        {
            opened?.Dispose();
            throw;
        }

        opened?.Dispose();
        return null;
    }

    /// <summary>
    /// Draws a page as its lines are given: turned and put straight. Null where that fails, or where what was drawn has not the size that the page is known
    /// to have, so that a place on it would be another one.
    /// </summary>
    public GrayPicture? Draw(PrintedPage page)
    {
        cancellation.ThrowIfCancellationRequested();
        if (LeftForPage <= TimeSpan.Zero)
            return null;
        try
        {
            return page.Width <= 0 || page.Height <= 0 ? OfUnknownSize(page.Number) : OfKnownSize(page);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            return null;
        }
    }

    /// <summary>Removes what was written.</summary>
    public void Dispose()
    {
        try
        {
            Directory.Delete(folder, recursive: true);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            // A program that was stopped may still hold a file; the system's own clean-up takes it.
        }
    }

    private GrayPicture? OfKnownSize(PrintedPage page)
    {
        bool isOnItsSide = page.QuarterTurns % 2 == 1;
        (double width, double height) = isOnItsSide ? (page.Height, page.Width) : (page.Width, page.Height);
        double resolution = Math.Floor(
            Math.Min(limits.DotsPerInch, Math.Sqrt(limits.DotsOfPage * (72.0 * 72.0) / (width * height)))
        );
        if (resolution < LeastResolution)
            return null;
        int wanted = (int)Math.Ceiling(width * resolution / 72),
            tall = (int)Math.Ceiling(height * resolution / 72);
        // The text was read from the visible part of the page, a picture from the whole sheet.
        foreach (
            string[] part in (ReadOnlySpan<string[]>)
                [
                    ["-cropbox"],
                    [],
                ]
        )
        {
            // A page that is larger than it should be is cut off two dots after the edge: that shows, and bounds what is written.
            GrayPicture? drawn = Run(
                page.Number,
                [
                    .. part,
                    "-r",
                    Number((int)resolution),
                    "-x",
                    "0",
                    "-y",
                    "0",
                    "-W",
                    Number(wanted + 2),
                    "-H",
                    Number(tall + 2),
                ]
            );
            if (drawn is not null && Math.Abs(drawn.Width - wanted) < 2 && Math.Abs(drawn.Height - tall) < 2)
                return PictureWork.Straight(drawn.Turned(page.QuarterTurns), page.Slope);
        }

        return null;
    }

    private GrayPicture? OfUnknownSize(int page) => Run(page, ["-cropbox", "-scale-to", Number(UnknownHeight)]);

    private GrayPicture? Run(int page, string[] how)
    {
        string drawn = Path.Combine(folder, Drawn);
        File.Delete(drawn);
        (ToolEnd end, _) = OutsideTool.Run(
            tool,
            [
                "-f",
                Number(page),
                "-l",
                Number(page),
                "-gray",
                "-singlefile",
                .. how,
                Document,
                Path.GetFileNameWithoutExtension(Drawn),
            ],
            folder,
            LeftForPage,
            cancellation
        );
        return end == ToolEnd.Done && File.Exists(drawn)
            ? GrayPicture.Read(drawn, limits.DotsOfPage + limits.DotsOfPage / 50)
            : null;
    }

    private static string Number(int number) => number.ToString(CultureInfo.InvariantCulture);
}
