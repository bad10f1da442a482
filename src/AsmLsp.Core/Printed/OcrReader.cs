using System.Collections.Immutable;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Printed;

/// <summary>
/// Reads documents, those too whose pages are pictures, or show letters that the file gives no meaning: what the reader
/// of the file finds no text on goes to a text recognition.
/// </summary>
/// <param name="inner">Reads the text that the file itself holds.</param>
/// <param name="recognizer">Reads pictures.</param>
/// <param name="wanted">The pages of interest, from 1; empty for all.</param>
public sealed class OcrReader(IPrintedDocumentReader inner, IPageOcr recognizer, ImmutableHashSet<int>? wanted = null)
    : IPrintedDocumentReader
{
    private readonly ImmutableHashSet<int> wanted = wanted ?? [];

    /// <inheritdoc/>
    public PrintedReading Read(ReadOnlyMemory<byte> bytes, CancellationToken cancellation = default)
    {
        if (DocumentFile.KindOf(bytes.Span) == DocumentFileKind.Picture)
            return All(bytes, DocumentFileKind.Picture, "", cancellation);
        PrintedReading reading = inner.Read(bytes, cancellation);
        if (reading.Failure is { Kind: PrintedFailureKind.ImageOnly })
            return All(
                bytes,
                DocumentFileKind.Pdf,
                "This document holds pictures of its pages and no text. ",
                cancellation
            );
        if (reading.Failure is { Kind: PrintedFailureKind.Illegible } illegible)
            return All(bytes, DocumentFileKind.Pdf, illegible.Message + " ", cancellation);
        return reading.Document is { } document ? Some(document, bytes, cancellation) : reading;
    }

    private PrintedReading All(
        ReadOnlyMemory<byte> bytes,
        DocumentFileKind kind,
        string reason,
        CancellationToken cancellation
    )
    {
        Recognition read = recognizer.Recognize(bytes, kind, [.. wanted.Order()], cancellation);
        if (read.Failure is { } failure)
            return PrintedReading.Of(
                failure.Kind,
                failure.Kind == PrintedFailureKind.NoOcr ? reason + failure.Message : failure.Message
            );
        IEnumerable<PrintedPage> unread = read.Unread.Select(static n => new PrintedPage(
            n,
            0,
            0,
            [],
            [],
            PrintedPageState.Unrecognized
        ));
        ImmutableArray<PrintedPage> pages = [.. OcrLines.Of(read.Pages).Concat(unread).OrderBy(static p => p.Number)];
        return pages.Any(static p => p.Lines.Length > 0)
            ? PrintedReading.Of(new PrintedDocument(pages, NotesOf(read)))
            : PrintedReading.Of(
                PrintedFailureKind.Empty,
                "No text was found in the picture of any page. Scan it again: straight, in gray, 300 dots per inch."
            );
    }

    // Pages with text stay as they are; the others are read if that can be done, and reported as unread if not.
    private PrintedReading Some(PrintedDocument document, ReadOnlyMemory<byte> bytes, CancellationToken cancellation)
    {
        ImmutableArray<int> pictures =
        [
            .. document
                .Pages.Where(p =>
                    (p.HasHiddenText || p.State is PrintedPageState.PictureOnly or PrintedPageState.Illegible)
                    && (wanted.IsEmpty || wanted.Contains(p.Number))
                )
                .Select(static p => p.Number),
        ];
        if (pictures.IsEmpty)
            return PrintedReading.Of(document);
        Recognition read = recognizer.Recognize(bytes, DocumentFileKind.Pdf, pictures, cancellation);
        string which = NumberRanges.Of(pictures);
        string layer = LayerOf(document, pictures);
        if (read.Failure is { } failure)
            return PrintedReading.Of(
                document with
                {
                    Notes = document.Notes.Add(
                        $"{(pictures.Length == 1 ? "Page" : "Pages")} {which}: {layer}{failure.Message}"
                    ),
                }
            );
        Dictionary<int, PrintedPage> byNumber = OcrLines.Of(read.Pages).ToDictionary(static p => p.Number);
        return PrintedReading.Of(
            new PrintedDocument(
                [
                    .. document.Pages.Select(p =>
                        byNumber.TryGetValue(p.Number, out PrintedPage? page) && IsBetter(page, p) ? page : p
                    ),
                ],
                [
                    .. document.Notes,
                    .. layer.Length > 0
                        ? [layer + "Where it could be, the picture was read anew."]
                        : ImmutableArray<string>.Empty,
                    .. NotesOf(read),
                ]
            )
        );
    }

    // A picture of which far less can be read than is reported to be on it is too coarse.
    private static bool IsBetter(PrintedPage page, PrintedPage before) =>
        page.Lines.Length > 0 && page.Lines.Length * 2 >= before.Lines.Length;

    private static string LayerOf(PrintedDocument document, ImmutableArray<int> pages)
    {
        int[] layers =
        [
            .. document.Pages.Where(p => p.HasHiddenText && pages.Contains(p.Number)).Select(static p => p.Number),
        ];
        return layers.Length == 0
            ? ""
            : $"The text of {(layers.Length == 1 ? "page" : "pages")} {NumberRanges.Of(layers)} lies unseen with the picture of the page: it is what some text recognition made of it, and nobody knows how clearly. ";
    }

    private static ImmutableArray<string> NotesOf(Recognition read)
    {
        ImmutableArray<int> columns = OcrLines.PerhapsInColumns(read.Pages);
        if (columns.IsEmpty)
            return read.Notes;
        string which = NumberRanges.Of(columns);
        return read.Notes.Add(
            $"{(columns.Length == 1 ? "Page" : "Pages")} {which} may have two columns of text side by side, which were read as one. If so, scan each column by itself."
        );
    }
}
