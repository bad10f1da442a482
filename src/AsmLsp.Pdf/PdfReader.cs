using System.Collections.Immutable;
using AsmLsp.Core.Printed;
using UglyToad.PdfPig;
using UglyToad.PdfPig.Exceptions;
using UglyToad.PdfPig.Tokens;

namespace AsmLsp.Pdf;

/// <summary>Reads the lines of a PDF file, with the columns in which they are.</summary>
/// <remarks>
/// Each reading has a thread of its own: files made to harm may nest deeper than an ordinary thread's stack bears, and
/// a thread can be left after where the library does not come back in time.
/// </remarks>
/// <param name="limits">What a document may cost; null for the usual limits.</param>
public sealed class PdfReader(ReadingLimits? limits = null) : IPrintedDocumentReader
{
    private const int StackBytes = 64 * 1024 * 1024;
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(2);
    private readonly ReadingLimits limits = limits ?? ReadingLimits.Default;

    /// <inheritdoc/>
    public PrintedReading Read(ReadOnlyMemory<byte> bytes, CancellationToken cancellation = default)
    {
        cancellation.ThrowIfCancellationRequested();
        if (bytes.IsEmpty)
            return PrintedReading.Of(
                PrintedFailureKind.Empty,
                "The file is empty (0 bytes). Copy or download it again."
            );
        if (bytes.Length > limits.FileBytes)
            return PrintedReading.Of(
                PrintedFailureKind.TooLarge,
                $"The file is larger than {limits.FileBytes / (1024 * 1024)} MB. Print only the pages with the listing to a new PDF file and read that."
            );
        if (!HasHeader(bytes.Span))
            return PrintedReading.Of(
                PrintedFailureKind.NotADocument,
                "This is not a PDF: it does not begin as one. If it is a text file, open it as text."
            );

        var guard = new ReadingGuard(limits, cancellation);
        PrintedReading? reading = null;
        using var finished = new ManualResetEventSlim();
        var thread = new Thread(
            () =>
            {
                PrintedReading read = ReadGuarded(bytes, guard);
                lock (guard)
                    reading = read;
                // The waiting side may have given up on this thread and gone.
                try
                {
                    finished.Set();
                }
                catch (ObjectDisposedException) { }
            },
            StackBytes
        )
        {
            IsBackground = true,
            Name = "PDF reader",
        };
        thread.Start();

        // The guard ends the work when the time is up; the patience beyond that is for work that never looks at it.
        bool inTime = finished.Wait(limits.Time + Patience, cancellation);
        if (inTime)
        {
            lock (guard)
            {
                if (reading is { } done && !cancellation.IsCancellationRequested)
                    return done;
            }
        }

        cancellation.ThrowIfCancellationRequested();
        guard.TimeIsUp();
        return PrintedReading.Of(guard.Failure!.Kind, guard.Failure.Message);
    }

    private static PrintedReading ReadGuarded(ReadOnlyMemory<byte> file, ReadingGuard guard)
    {
        try
        {
            return ReadPages(file, guard);
        }
        catch (PdfDocumentEncryptedException)
        {
            return PrintedReading.Of(
                PrintedFailureKind.Encrypted,
                "The PDF is locked with a password. Open it in a PDF viewer with its password, print it to a new PDF file, and read that."
            );
        }
        catch (OutOfMemoryException)
        {
            guard.MemoryIsFull();
            return PrintedReading.Of(guard.Failure!.Kind, guard.Failure.Message);
        }
        catch (Exception)
        {
            // The library throws exceptions of many kinds on a broken file, and none may reach the caller.
            return guard.Failure is { } failure
                ? PrintedReading.Of(failure.Kind, failure.Message)
                : PrintedReading.Of(
                    PrintedFailureKind.Damaged,
                    "The PDF is damaged and can't be read. Copy or download it again, or open it in a PDF viewer and print it to a new PDF file."
                );
        }
    }

    private static PrintedReading ReadPages(ReadOnlyMemory<byte> file, ReadingGuard guard)
    {
        guard.Check();
        if (guard.Loops.AddFile(file.Span))
            guard.EndForLoop();
        if (CrossReferences.AreOutOfProportion(file.Span))
            return PrintedReading.Of(
                PrintedFailureKind.Damaged,
                "The PDF is damaged: its list of parts speaks of more than it can hold. Copy or download it again, or open it in a PDF viewer and print it to a new PDF file."
            );
        var log = new GuardedLog(guard);
        var options = new ParsingOptions
        {
            UseLenientParsing = true,
            SkipMissingFonts = true,
            ClipPaths = false,
            Logger = log,
            FilterProvider = new BoundedFilters(guard),
        };
        using PdfDocument document = PdfDocument.Open(file, options);
        int count = document.NumberOfPages;
        if (count > guard.Limits.Pages)
            return PrintedReading.Of(
                PrintedFailureKind.TooLarge,
                $"The document has {count} pages; {guard.Limits.Pages} are the most. Print only the pages with the listing to a new PDF file and read that."
            );
        document.AddPageFactory<PageGlyphs, GlyphPages>();

        var pages = new List<PageInput>(count);
        bool anyDamage = false;
        for (int number = 1; number <= count; number++)
        {
            guard.Check();
            PageInput page = ReadPage(document, number, guard, out bool damaged);
            anyDamage |= damaged;
            pages.Add(page);
        }

        guard.Check();
        CodeReading.Apply(pages, guard);
        if (!pages.Exists(static p => p.HasText && !p.IsIllegible()))
            return Nothing(pages, anyDamage || count == 0 || IsCutOff(file.Span), HasForm(document));
        return PrintedReading.Of(new PrintedDocument(PageLines.Of(pages, guard), Notes(file.Span, log.LeftTextOut)));
    }

    private static PrintedReading Nothing(List<PageInput> pages, bool isDamaged, bool hasForm)
    {
        if (pages.Exists(static p => p.HasText))
            return PrintedReading.Of(
                PrintedFailureKind.Illegible,
                "This PDF shows letters, but its fonts do not say which letter each shape is. Copying text from it gives nonsense too."
            );
        if (pages.Exists(static p => p.IsPicture))
            return PrintedReading.Of(
                PrintedFailureKind.ImageOnly,
                "This PDF holds pictures of its pages and no text. Run a text recognition (OCR) on it first, then try the result and compare its letters and digits with the print."
            );
        return isDamaged
            ? PrintedReading.Of(
                PrintedFailureKind.Damaged,
                "No page of the PDF can be read: it is damaged. Copy or download it again, or open it in a PDF viewer and print it to a new PDF file."
            )
            : PrintedReading.Of(
                PrintedFailureKind.Empty,
                hasForm
                    ? "This PDF has no text on its pages, except perhaps in the fields of a form. Open it in a PDF viewer, print it to a new PDF file, and read that."
                    : "This PDF has no text on its pages."
            );
    }

    private static bool HasForm(PdfDocument document)
    {
        try
        {
            return document.Structure.Catalog.CatalogDictionary.ContainsKey(NameToken.AcroForm);
        }
        catch (Exception)
        {
            // The library throws exceptions of many kinds on a broken file.
            return false;
        }
    }

    private static PageInput ReadPage(PdfDocument document, int number, ReadingGuard guard, out bool damaged)
    {
        damaged = false;
        try
        {
            return new PageInput(number, document.GetPage<PageGlyphs>(number));
        }
        catch (Exception e) when (!guard.MustEnd && e is not OutOfMemoryException)
        {
            // One bad page is no reason to lose the others; it is reported with the page.
            damaged = true;
            return new PageInput(number, null);
        }
    }

    // Up to 1024 bytes of something else may be before the header (ISO 32000-1, annex H, implementation note 13).
    private static bool HasHeader(ReadOnlySpan<byte> file) =>
        file[..Math.Min(file.Length, 1024 + 5)].IndexOf("%PDF-"u8) >= 0;

    private static bool IsCutOff(ReadOnlySpan<byte> file) =>
        file[^Math.Min(file.Length, 2048)..].IndexOf("%%EOF"u8) < 0;

    private static ImmutableArray<string> Notes(ReadOnlySpan<byte> file, bool leftTextOut)
    {
        ImmutableArray<string>.Builder notes = ImmutableArray.CreateBuilder<string>();
        if (IsCutOff(file))
            notes.Add(
                "The file does not end as a PDF does, so it may be cut off: pages may be missing. Compare it with the original, or download it again."
            );
        if (leftTextOut)
            notes.Add(
                "Some text is set in a font that the PDF does not hold, and could not be read. Compare the result with the pages, line by line."
            );
        return notes.DrainToImmutable();
    }
}
