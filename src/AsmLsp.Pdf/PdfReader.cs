using System.Collections.Immutable;
using System.Diagnostics;
using System.Globalization;
using AsmLsp.Core.Recovery.Printed;
using UglyToad.PdfPig;
using UglyToad.PdfPig.Content;
using UglyToad.PdfPig.Exceptions;

namespace AsmLsp.Pdf;

/// <summary>
/// Reads the printed lines of a PDF. The work runs on a thread of its own with a deadline, because the bytes come from
/// anywhere and the library can't be stopped from outside: a document that takes too long is given up, and the thread
/// ends with the process.
/// </summary>
public sealed class PdfReader : IPrintedDocumentReader
{
    /// <summary>The longest file that is read, in bytes.</summary>
    public const int MaxBytes = 200 * 1000 * 1000;

    /// <summary>The most pages that are read.</summary>
    public const int MaxPages = 2_000;

    /// <summary>The most characters that are read.</summary>
    public const int MaxLetters = 5_000_000;

    /// <summary>The most characters on one page: a packed page of fine print has some ten thousand.</summary>
    public const int MaxLettersOnPage = 200_000;

    private const int StackSize = 16 * 1024 * 1024;

    private readonly TimeSpan deadline;

    /// <summary>Makes a reader that gives up after a minute.</summary>
    public PdfReader() : this(TimeSpan.FromMinutes(1)) { }

    /// <summary>Makes a reader with a deadline of its own.</summary>
    /// <param name="deadline">How long one document may take.</param>
    public PdfReader(TimeSpan deadline) => this.deadline = deadline;

    /// <inheritdoc/>
    public PrintedReading Read(ReadOnlyMemory<byte> bytes, CancellationToken cancellation = default)
    {
        cancellation.ThrowIfCancellationRequested();
        if (bytes.Length == 0) return PrintedReading.Of(PrintedFailureKind.Empty, "The file is empty (0 bytes). Copy or download it again.");
        if (bytes.Length > MaxBytes) return TooLarge($"more than {MaxBytes / 1_000_000} MB");
        if (bytes.Span[..Math.Min(bytes.Length, 1024)].IndexOf("%PDF-"u8) < 0)
            return PrintedReading.Of(PrintedFailureKind.NotAPdf, "This is not a PDF: it does not begin as one. If it is a text file, open it as text.");

        using var stop = CancellationTokenSource.CreateLinkedTokenSource(cancellation);
        PrintedReading? result = null;
        var finished = new ManualResetEventSlim();
        CancellationToken inner = stop.Token;
        var worker = new Thread(() =>
        {
            try
            {
                result = ReadInside(bytes, inner);
            }
            catch (OperationCanceledException)
            {
                // Whoever waits knows.
            }
            catch (Exception e) when (e is not OutOfMemoryException)
            {
                // The library throws whatever a broken document provokes; to a person it is all one.
                result = Explain(e);
            }
            catch (OutOfMemoryException)
            {
                result = TooLarge("reading it takes more memory than there is");
            }

            finished.Set();
        }, StackSize)
        { IsBackground = true, Name = "PDF" };
        worker.Start();
        bool inTime = finished.Wait(deadline, cancellation);
        stop.Cancel();
        if (!inTime) return TooLarge($"reading it takes more than {deadline.TotalSeconds.ToString("0", CultureInfo.InvariantCulture)} seconds");
        cancellation.ThrowIfCancellationRequested();
        return result ?? Damaged();
    }

    private static PrintedReading ReadInside(ReadOnlyMemory<byte> bytes, CancellationToken cancellation)
    {
        var fonts = new PdfFonts();
        using PdfDocument document = PdfDocument.Open(bytes, new ParsingOptions
        {
            Logger = fonts,
            SkipMissingFonts = true,
            UseLenientParsing = true,
            FilterProvider = fonts.Filters,
        });
        fonts.Document = document;
        int count = document.NumberOfPages;
        if (count > MaxPages) return TooLarge($"more than {MaxPages} pages");
        var pages = new List<(int Number, PdfLetters? Letters, bool HasPicture)>();
        int letters = 0;
        for (int number = 1; number <= count; number++)
        {
            cancellation.ThrowIfCancellationRequested();
            (PdfLetters? read, bool picture, bool tooMany) = ReadPage(document, number, fonts, cancellation);
            letters += read is null ? 0 : read.Flow.Count + read.Aside.Count;
            if (tooMany || letters > MaxLetters) return TooLarge("more characters than any printed listing");
            pages.Add((number, read, picture));
        }

        return Finish(bytes, pages, letters, fonts.LeftTextOut, cancellation);
    }

    private static (PdfLetters? Letters, bool HasPicture, bool TooMany) ReadPage(PdfDocument document, int number, PdfFonts fonts, CancellationToken cancellation)
    {
        try
        {
            Page page = document.GetPage(number);
            if (page.Letters.Count > MaxLettersOnPage) return (null, false, true);
            return (PdfLetters.Of(page, fonts, cancellation), page.NumberOfImages > 0, false);
        }
        catch (Exception e) when (e is not OperationCanceledException and not OutOfMemoryException)
        {
            // One broken page must not hide the others; it is told as unreadable.
            return (null, false, false);
        }
    }

    private static PrintedReading Finish(ReadOnlyMemory<byte> bytes, List<(int Number, PdfLetters? Letters, bool HasPicture)> pages, int letters, bool leftTextOut, CancellationToken cancellation)
    {
        if (pages.Count > 0 && pages.TrueForAll(static p => p.Letters is null)) return Damaged();
        if (letters == 0)
        {
            if (pages.Exists(static p => p.HasPicture))
                return PrintedReading.Of(PrintedFailureKind.ImageOnly, "This PDF holds pictures of its pages and no text. Run a text recognition (OCR) on it first, then try the result.");
            if (pages.Exists(static p => p.Letters is null) || IsCutOff(bytes.Span)) return Damaged();
            return PrintedReading.Of(PrintedFailureKind.Empty, "This PDF has no text on its pages.");
        }

        var blocks = new List<List<PdfRow>>[pages.Count];
        var edges = new PdfLines.Edges();
        for (int i = 0; i < pages.Count; i++)
        {
            cancellation.ThrowIfCancellationRequested();
            blocks[i] = pages[i].Letters is { } known ? PdfColumns.Split(known.Flow, cancellation) : [];
            foreach (List<PdfRow> block in blocks[i])
                if (PdfLines.Pitch(block) is > 0 and var pitch) edges.Note(pitch, PdfLines.Left(block));
        }

        var result = ImmutableArray.CreateBuilder<PrintedPage>(pages.Count);
        for (int i = 0; i < pages.Count; i++)
        {
            cancellation.ThrowIfCancellationRequested();
            result.Add(Finish(pages[i].Number, pages[i].Letters, pages[i].HasPicture, blocks[i], edges, cancellation));
        }

        var notes = ImmutableArray.CreateBuilder<string>();
        if (IsCutOff(bytes.Span)) notes.Add("The file does not end as a PDF does, so it may be cut off: pages may be missing. Compare it with the original, or download it again.");
        if (leftTextOut) notes.Add("Some text is set in a font that the PDF does not hold, and could not be read. Compare the result with the pages, line by line.");
        return PrintedReading.Of(new PrintedDocument(result.MoveToImmutable(), notes.DrainToImmutable()));
    }

    private static PrintedPage Finish(int number, PdfLetters? letters, bool hasPicture, List<List<PdfRow>> blocks, PdfLines.Edges edges, CancellationToken cancellation)
    {
        if (letters is null) return new PrintedPage(number, 0, 0, [], [], PrintedPageState.Unreadable);
        var lines = new List<PrintedLine>();
        foreach (List<PdfRow> block in blocks) PdfLines.Add(block, edges, number, lines);
        var aside = new List<PrintedLine>();
        foreach (PrintedLine line in Beside(letters.Aside, number, cancellation)) aside.Add(line);
        PrintedPageState state = lines.Count == 0 && hasPicture ? PrintedPageState.PictureOnly : PrintedPageState.Read;
        return new PrintedPage(number, Math.Round(letters.Width, 2), Math.Round(letters.Height, 2), [.. lines], [.. aside], state);
    }

    // Turned text has no rows: its letters are joined in the order in which the page draws them.
    private static IEnumerable<PrintedLine> Beside(List<PdfLetter> letters, int page, CancellationToken cancellation)
    {
        int number = 0;
        for (int first = 0; first < letters.Count;)
        {
            cancellation.ThrowIfCancellationRequested();
            PdfLetter start = letters[first];
            int next = first + 1;
            while (next < letters.Count && Math.Abs(letters[next].Size - start.Size) < 0.5
                && Math.Abs(letters[next].X - letters[next - 1].X) + Math.Abs(letters[next].Y - letters[next - 1].Y) < 2.5 * start.Size) next++;
            string text = string.Concat(letters.Skip(first).Take(next - first).Select(static l => l.Value)).Trim();
            first = next;
            if (text.Length == 0) continue;
            yield return new PrintedLine(text, page, ++number, Math.Round(start.X, 2), Math.Round(start.Y, 2), start.Font.Family, Math.Round(start.Size, 2), start.Font.IsMonospaced);
        }
    }

    private static bool IsCutOff(ReadOnlySpan<byte> bytes) => bytes[^Math.Min(bytes.Length, 2048)..].LastIndexOf("%%EOF"u8) < 0;

    private static PrintedReading Explain(Exception e)
    {
        for (Exception? inner = e; inner is not null; inner = inner.InnerException)
        {
            if (inner is PdfDocumentEncryptedException)
                return PrintedReading.Of(PrintedFailureKind.Encrypted, "This PDF is locked with a password. Open it in a PDF viewer with its password, save or print it to a PDF without one, and try that.");
            if (inner is TooMuchDataException) return TooLarge("a packed part unpacks to more than any page needs");
        }

        return Damaged();
    }

    private static PrintedReading Damaged() => PrintedReading.Of(PrintedFailureKind.Damaged,
        "This PDF is damaged and can't be read. Download or copy it again; if it opens in a PDF viewer, print it to a new PDF and try that.");

    private static PrintedReading TooLarge(string what) => PrintedReading.Of(PrintedFailureKind.TooLarge,
        $"This PDF is too large to read: {what}. Print only the pages of the listing to a new PDF, and try that.");
}
