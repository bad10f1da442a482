using System.Collections.Immutable;
using System.Globalization;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Text;
using AsmLsp.Host.Recovering;
using AsmLsp.Host.Scans;

namespace AsmLsp.Host.Pictures;

/// <summary>
/// The pictures of what a person has to compare with a document: each line with a doubt or a problem, cut out of its page, and the pages that hold such lines.
/// Where nothing can be drawn there are none, and a sentence says why.
/// </summary>
public sealed class DocumentPictures
{
    private readonly Dictionary<string, LinePicture> lines = [];
    private readonly SortedDictionary<int, PagePicture> pages = [];
    private readonly Dictionary<PrintedPlace, PrintedLine> printed = [];

    private DocumentPictures(RecoveredDocument document)
    {
        foreach (PrintedPage page in document.Printed?.Pages ?? [])
        foreach (PrintedLine line in page.Lines)
            printed.TryAdd(new PrintedPlace(line.Page, line.Number), line);
    }

    /// <summary>Why there are fewer pictures than places to look at, in a sentence; null where none is missing.</summary>
    public string? Note { get; private set; }

    /// <summary>The pictures of lines, by page and line.</summary>
    public IEnumerable<LinePicture> Lines =>
        lines.Values.OrderBy(static l => l.Area.Page).ThenBy(static l => l.Area.FirstLine);

    /// <summary>The pictures of pages, by number.</summary>
    public IEnumerable<PagePicture> Pages => pages.Values;

    /// <summary>Draws what there is to look at of a document.</summary>
    /// <param name="document">The document with what was recovered from it.</param>
    /// <param name="limits">What it may cost; null for the usual limits.</param>
    /// <param name="tools">The programs; null looks for them.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="OperationCanceledException">The token asked for it.</exception>
    public static DocumentPictures Draw(
        RecoveredDocument document,
        PictureLimits? limits = null,
        ScanTools? tools = null,
        CancellationToken cancellation = default
    )
    {
        ArgumentNullException.ThrowIfNull(document);
        var pictures = new DocumentPictures(document);
        if (document.Printed is { } print)
            pictures.Draw(document, print, limits ?? PictureLimits.Default, tools, cancellation);
        else
            pictures.Note = "There are no pictures of printed lines: a text has no printed pages.";
        return pictures;
    }

    /// <summary>The pictures of the lines that a source line comes of; none where they were not drawn.</summary>
    public IEnumerable<LinePicture> Of(LineOrigin origin)
    {
        foreach (PrintedArea area in AreasOf(origin))
            if (lines.TryGetValue(area.Name, out LinePicture? picture))
                yield return picture;
    }

    /// <summary>The picture of a page; null where it was not drawn.</summary>
    public PagePicture? OfPage(int number) => pages.GetValueOrDefault(number);

    /// <summary>The pictures of the lines that an entry of the report is about.</summary>
    public IEnumerable<LinePicture> Of(RecoveryEntry entry, RecoveryResult result)
    {
        ArgumentNullException.ThrowIfNull(entry);
        ArgumentNullException.ThrowIfNull(result);
        return entry.Severity == Severity.Information || entry.IsAboutDocument || entry.Line >= result.Origins.Length
            ? []
            : Of(result.Origins[entry.Line]);
    }

    private ImmutableArray<PrintedArea> AreasOf(LineOrigin origin) => PrintedArea.Of(origin, printed.GetValueOrDefault);

    private void Draw(
        RecoveredDocument document,
        PrintedDocument print,
        PictureLimits limits,
        ScanTools? tools,
        CancellationToken cancellation
    )
    {
        SortedDictionary<int, Dictionary<string, PrintedArea>> wanted = Wanted(document.Result, print);
        if (wanted.Count == 0)
            return;
        using PageRenderer? renderer = PageRenderer.Open(
            document.Bytes,
            tools ?? ScanTools.Find(),
            limits,
            cancellation,
            out string? why
        );
        if (renderer is null)
        {
            Note = $"There are no pictures of printed lines: {why}.";
            return;
        }

        Dictionary<int, PrintedPage> byNumber = print
            .Pages.GroupBy(static p => p.Number)
            .ToDictionary(static g => g.Key, static g => g.First());
        var missing = new List<int>();
        long lineBytes = 0,
            pageBytes = 0;
        int drawnPages = 0;
        foreach ((int number, Dictionary<string, PrintedArea> areas) in wanted)
        {
            bool isWithin = drawnPages < limits.Pages && renderer.HasTime && lineBytes < limits.BytesOfPages / 4;
            if (!isWithin || renderer.Draw(byNumber[number]) is not { } picture)
            {
                missing.Add(number);
                continue;
            }

            drawnPages++;
            var drawn = new DrawnPage(byNumber[number], picture);
            ImmutableArray<LineFrame>.Builder frames = ImmutableArray.CreateBuilder<LineFrame>();
            foreach ((string name, PrintedArea area) in areas.OrderBy(static a => a.Value.FirstLine))
            {
                if (drawn.Cut(area) is not var (line, frame))
                    continue;
                lines[name] = line;
                frames.Add(frame);
                lineBytes += line.Png.Length;
            }

            PagePicture whole = drawn.Whole(frames.ToImmutable());
            if ((pageBytes += whole.Png.Length) <= limits.BytesOfPages)
                pages[number] = whole;
        }

        if (missing.Count > 0)
            Note =
                $"There are no pictures of {(missing.Count == 1 ? "page" : "pages")} {NumberRanges.Of(missing)}: {WhyNot(drawnPages >= limits.Pages, renderer.HasTime, limits)}.";
        else if (pages.Count < drawnPages)
            Note = string.Create(
                CultureInfo.InvariantCulture,
                $"Only {pages.Count} of {drawnPages} complete pages are shown as pictures: more would be too large. Their lines are all shown."
            );
    }

    private static string WhyNot(bool isFull, bool hasTime, PictureLimits limits) =>
        isFull ? string.Create(CultureInfo.InvariantCulture, $"no more than {limits.Pages} are drawn")
        : hasTime ? "they could not be drawn as they were read"
        : "drawing more takes too long";

    // The areas to look at, by page; a page near the program that could not be read is wanted whole.
    private SortedDictionary<int, Dictionary<string, PrintedArea>> Wanted(RecoveryResult result, PrintedDocument print)
    {
        var wanted = new SortedDictionary<int, Dictionary<string, PrintedArea>>();
        foreach (RecoveryResult part in result.Files.Select(static f => f.Result).Prepend(result))
        foreach (RecoveryEntry entry in part.Entries)
        {
            if (entry.Severity == Severity.Information || entry.IsAboutDocument || entry.Line >= part.Origins.Length)
                continue;
            foreach (PrintedArea area in AreasOf(part.Origins[entry.Line]))
                Of(area.Page)[area.Name] = area;
        }

        // A part of the program may be on a page beside or between its own.
        int[] own = [.. result.Origins.Select(static o => o.Page).Where(static p => p > 0)];
        (int first, int last) = own.Length == 0 ? (int.MaxValue, int.MinValue) : (own.Min() - 1, own.Max() + 1);
        foreach (PrintedPage page in print.Pages)
        {
            bool isNear = page.Number >= first && page.Number <= last;
            if (isNear && page.State != PrintedPageState.Read && page.Lines.IsEmpty)
                Of(page.Number);
        }

        return wanted;

        Dictionary<string, PrintedArea> Of(int page)
        {
            if (!wanted.TryGetValue(page, out Dictionary<string, PrintedArea>? areas))
                wanted[page] = areas = [];
            return areas;
        }
    }
}
