using System.Collections.Immutable;
using System.Diagnostics;
using System.Globalization;
using AsmLsp.Core.Printed;

namespace AsmLsp.Host.Scans;

/// <summary>
/// Reads pictures of pages with tesseract; PDF pages are drawn by poppler's pdftoppm before. Both run as programs of their own, for a bounded
/// time, in a folder of their own that is gone afterward. Nothing leaves the machine.
/// </summary>
/// <param name="limits">What it may cost; null for the usual limits.</param>
/// <param name="tools">The programs; null looks for them at each reading.</param>
public sealed class ScanOcr(ScanLimits? limits = null, ScanTools? tools = null) : IPageOcr
{
    private readonly ScanLimits limits = limits ?? ScanLimits.Default;

    /// <inheritdoc/>
    public Recognition Recognize(
        ReadOnlyMemory<byte> file,
        DocumentFileKind kind,
        ImmutableArray<int> pages,
        CancellationToken cancellation = default
    )
    {
        cancellation.ThrowIfCancellationRequested();
        ScanTools found = tools ?? ScanTools.Find();
        if (!found.AreComplete)
            return Recognition.Failed(
                PrintedFailureKind.NoOcr,
                $"Pages can be read from their pictures, but {found.HowToInstall()}."
            );
        if (file.Length > limits.FileBytes)
            return Recognition.Failed(
                PrintedFailureKind.TooLarge,
                $"The file is larger than {limits.FileBytes / (1024 * 1024)} MB. Save only the pages with the listing, and read that."
            );

        string? folder = null;
        try
        {
            folder = Directory.CreateTempSubdirectory("relist-scan-").FullName;
            return new Run(limits, found, folder, cancellation).Read(file, kind, pages);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            return Recognition.Failed(PrintedFailureKind.Damaged, $"The pages could not be drawn: {fault.Message}");
        }
        finally
        {
            if (folder is not null)
                Remove(folder);
        }
    }

    private static void Remove(string folder)
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

    /// <summary>One reading of one document.</summary>
    private sealed class Run(ScanLimits limits, ScanTools tools, string folder, CancellationToken cancellation)
    {
        private const string Document = "document.pdf",
            Drawn = "drawn.pgm";

        // Pages that lie the right way up were read with 0.97 at the least on average, those on their side with 0.95 at most.
        private const double ClearPage = 0.965;

        private readonly long started = Stopwatch.GetTimestamp();
        private readonly ImmutableArray<string>.Builder notes = ImmutableArray.CreateBuilder<string>();

        private TimeSpan Left => limits.Time - Stopwatch.GetElapsedTime(started);

        private TimeSpan LeftForStep => Left < limits.TimeOfPage ? Left : limits.TimeOfPage;

        public Recognition Read(ReadOnlyMemory<byte> file, DocumentFileKind kind, ImmutableArray<int> pages)
        {
            if (kind == DocumentFileKind.Picture)
            {
                if (Wrap(file) is { } failure)
                    return new Recognition([], [], failure);
            }
            else
            {
                using FileStream copy = File.Create(Path.Combine(folder, Document));
                copy.Write(file.Span);
            }

            if (Sizes() is not { } sizes)
                return Recognition.Failed(
                    PrintedFailureKind.Damaged,
                    "The pages of the document can't be drawn. Open it in a viewer and print it to a new PDF file."
                );
            int[] wanted =
            [
                .. (pages.IsEmpty ? Enumerable.Range(1, sizes.Count) : pages).Where(p => p >= 1 && p <= sizes.Count),
            ];
            if (wanted.Length > limits.Pages)
                notes.Add(
                    $"Only the first {limits.Pages} of {wanted.Length} pictures of pages were read, up to page {wanted[limits.Pages - 1]}. If the listing is on later pages, name them with --pages."
                );
            ImmutableArray<OcrPage>.Builder read = ImmutableArray.CreateBuilder<OcrPage>();
            foreach (int page in wanted.Take(limits.Pages))
            {
                cancellation.ThrowIfCancellationRequested();
                if (Left <= TimeSpan.Zero)
                {
                    notes.Add(
                        $"Reading the pictures takes longer than {limits.Time.TotalMinutes:0.#} minutes, so it was given up before page {page}. Name the pages of the listing."
                    );
                    break;
                }

                if (ReadPage(page, sizes[page - 1]) is { } one)
                    read.Add(one);
            }

            var done = read.Select(static p => p.Number).ToHashSet();
            return read.Count > 0
                ? new Recognition(read.ToImmutable(), notes.ToImmutable(), null)
                {
                    Unread = [.. wanted.Where(p => !done.Contains(p))],
                }
                : new Recognition(
                    [],
                    [],
                    new PrintedFailure(
                        PrintedFailureKind.Damaged,
                        notes.Count > 0 ? notes[0] : "No page could be read."
                    )
                );
        }

        private PrintedFailure? Wrap(ReadOnlyMemory<byte> file) =>
            PictureWrap.Make(file, tools.Tesseract!, folder, Document, limits.DotsPerInch, Left, cancellation) switch
            {
                ToolEnd.Done => null,
                ToolEnd.TooLong => new PrintedFailure(
                    PrintedFailureKind.TooLarge,
                    "Reading the picture takes too long, so it was given up. Save the part with the listing as a picture of its own."
                ),
                _ => new PrintedFailure(
                    PrintedFailureKind.Damaged,
                    "The picture can't be read: it is damaged, or of a kind that is not known. Save it as PNG, and read that."
                ),
            };

        // Width and height of each page in points; null where the document can't be read.
        private List<(double Width, double Height)>? Sizes()
        {
            (ToolEnd end, string reported) = OutsideTool.Run(
                tools.PdfInfo!,
                ["-f", "1", "-l", "2000", Document],
                folder,
                LeftForStep,
                cancellation
            );
            if (end != ToolEnd.Done)
                return null;
            var sizes = new List<(double, double)>();
            foreach (string line in reported.Split('\n'))
            {
                // 'Page    1 size:  595 x 842 pts (A4)', and without a number where there is one page only.
                string[] words = line.Split(
                    ' ',
                    StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries
                );
                int at = Array.IndexOf(words, "size:");
                if (at < 1 || !line.StartsWith("Page ", StringComparison.Ordinal) || words.Length < at + 4)
                    continue;
                if (
                    double.TryParse(words[at + 1], CultureInfo.InvariantCulture, out double width)
                    && double.TryParse(words[at + 3], CultureInfo.InvariantCulture, out double height)
                    && width > 0
                    && height > 0
                )
                    sizes.Add((width, height));
            }

            return sizes.Count == 0 ? null : sizes;
        }

        private OcrPage? ReadPage(int page, (double Width, double Height) size)
        {
            double dots = size.Width * size.Height / (72.0 * 72.0) * limits.DotsPerInch * limits.DotsPerInch;
            int resolution =
                dots <= limits.DotsOfPage * 0.95
                    ? limits.DotsPerInch
                    : (int)(limits.DotsPerInch * Math.Sqrt(limits.DotsOfPage * 0.95 / dots));
            if (resolution < 20)
                return Unread(page, "is larger than any sheet of paper");
            (ToolEnd end, _) = OutsideTool.Run(
                tools.PdfToPpm!,
                [
                    "-f",
                    Number(page),
                    "-l",
                    Number(page),
                    "-r",
                    Number(resolution),
                    "-gray",
                    "-singlefile",
                    Document,
                    Path.GetFileNameWithoutExtension(Drawn),
                ],
                folder,
                LeftForStep,
                cancellation
            );
            string drawn = Path.Combine(folder, Drawn),
                text = Path.Combine(folder, "read.hocr");
            if (end != ToolEnd.Done || !File.Exists(drawn))
                return Unread(page, end == ToolEnd.TooLong ? "takes too long to draw" : "can't be drawn");
            try
            {
                if (GrayPicture.Read(drawn, limits.DotsOfPage) is not { } raw)
                    return Unread(page, "can't be drawn");
                double points = 72.0 / resolution;
                int threshold = raw.Threshold();
                GrayPicture picture = RuledLines.Without(raw, threshold, resolution).WithContrast(threshold);
                ImmutableArray<OcrRow>? rows = Rows(page, picture, resolution);
                int quarters = 0;
                if (rows is { } first && ClarityOf(first) < ClearPage && Turns(resolution) is > 0 and var turns)
                {
                    // The other way up it reads worse, if the guess was wrong.
                    GrayPicture turned = picture.Turned(turns);
                    if (Rows(page, turned, resolution) is { } second && ClarityOf(second) > ClarityOf(first))
                        (picture, rows, quarters) = (turned, second, turns);
                }

                if (rows is not { } read)
                    return null;
                var whole = new OcrPage(page, picture.Width * points, picture.Height * points, read, []);
                if (OcrLines.ColumnsOf(whole) is { } columns)
                {
                    ImmutableArray<OcrRow>.Builder parts = ImmutableArray.CreateBuilder<OcrRow>();
                    for (int i = 0; i <= columns.Gaps.Length; i++)
                    {
                        if (Rows(page, OneColumn(picture, columns, i, points), resolution) is not { } part)
                            return null;
                        parts.AddRange(part);
                    }

                    read = parts.ToImmutable();
                }

                read = GlyphShapes.Judge(picture, picture.Threshold(), read, points);
                ImmutableArray<InkSpot>? unread = UnreadInk.Find(picture, picture.Threshold(), read, points);
                return whole with
                {
                    Rows = read,
                    Unread = unread ?? [],
                    IsDirty = unread is null,
                    QuarterTurns = quarters,
                };
            }
            finally
            {
                File.Delete(drawn);
                File.Delete(text);
            }
        }

        private ImmutableArray<OcrRow>? Rows(int page, GrayPicture picture, int resolution)
        {
            string text = Path.Combine(folder, "read.hocr");
            picture.Write(Path.Combine(folder, Drawn));
            cancellation.ThrowIfCancellationRequested();
            (ToolEnd end, _) = OutsideTool.Run(
                tools.Tesseract!,
                [Drawn, "read", "--dpi", Number(resolution), "--psm", "6", "-c", "hocr_char_boxes=1", "hocr"],
                folder,
                LeftForStep,
                cancellation
            );
            string? why =
                end != ToolEnd.Done || !File.Exists(text)
                    ? end == ToolEnd.TooLong
                        ? "takes too long to read"
                        : "can't be read"
                    : new FileInfo(text).Length > limits.TextBytesOfPage
                        ? "has more marks on it than text has"
                        : null;
            if (why is null)
                return HocrReader.Read(File.ReadAllText(text), 72.0 / resolution);
            Unread(page, why);
            return null;
        }

        // The page with nothing on it but one text column.
        private static GrayPicture OneColumn(GrayPicture picture, ColumnLayout columns, int column, double points)
        {
            byte[] dots = new byte[picture.Dots.Length];
            for (int y = 0; y < picture.Height; y++)
            for (int x = 0, at = y * picture.Width; x < picture.Width; x++, at++)
                dots[at] = columns.ColumnOf(x * points, y * points) == column ? picture.Dots[at] : (byte)255;
            return new GrayPicture(picture.Width, picture.Height, dots);
        }

        // How sure the recognition is of a page.
        private static double ClarityOf(ImmutableArray<OcrRow> rows) =>
            rows.SelectMany(static r => r.Characters).Select(static c => c.Confidence).DefaultIfEmpty(1).Average();

        // The quarters by which the page has to be turned to the right, as the recognition guesses; 0 where it cannot know.
        private int Turns(int resolution)
        {
            (ToolEnd end, string reported) = OutsideTool.Run(
                tools.Tesseract!,
                [Drawn, "stdout", "--dpi", Number(resolution), "--psm", "0"],
                folder,
                LeftForStep,
                cancellation
            );
            if (end != ToolEnd.Done)
                return 0;
            foreach (string line in reported.Split('\n'))
                if (
                    line.StartsWith("Rotate:", StringComparison.Ordinal)
                    && int.TryParse(line.AsSpan(7).Trim(), CultureInfo.InvariantCulture, out int degrees)
                )
                    return degrees / 90 & 3;
            return 0;
        }

        private OcrPage? Unread(int page, string why)
        {
            notes.Add($"Page {page} {why}, so it is missing here.");
            return null;
        }

        private static string Number(int number) => number.ToString(CultureInfo.InvariantCulture);
    }
}
