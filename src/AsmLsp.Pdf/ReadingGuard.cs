using System.Diagnostics;
using AsmLsp.Core.Printed;

namespace AsmLsp.Pdf;

/// <summary>
/// Counts what a document costs and ends the work when it is too much. The PDF library swallows some exceptions in
/// order to be lenient, so the guard remembers that a limit was passed, and every later look at it ends the work again.
/// </summary>
internal sealed class ReadingGuard(ReadingLimits limits, CancellationToken stop)
{
    private readonly long started = Stopwatch.GetTimestamp();
    private volatile PrintedFailure? failure;
    private long unpacked;
    private int letters;
    private int lettersOnPage;
    private int operationsOnPage;

    public ReadingLimits Limits => limits;

    /// <summary>The limit that was passed, or null.</summary>
    public PrintedFailure? Failure => failure;

    /// <summary>Whether the work is to end: a limit was passed, or the caller has no more interest.</summary>
    public bool MustEnd => failure is not null || stop.IsCancellationRequested;

    /// <summary>Ends the work if a limit was passed, the time is up or the caller has no more interest.</summary>
    /// <exception cref="ReadingEndedException">The work is to end.</exception>
    public void Check()
    {
        if (failure is null && Stopwatch.GetElapsedTime(started) > limits.Time)
            TimeIsUp();
        if (failure is not null || stop.IsCancellationRequested)
            throw new ReadingEndedException();
    }

    public void TimeIsUp() =>
        Trip(
            new PrintedFailure(
                PrintedFailureKind.TooLarge,
                $"Reading the document takes longer than {limits.Time.TotalSeconds:0.#} seconds, so it was given up. Print only the pages with the listing to a new PDF file and read that."
            )
        );

    /// <summary>Circles among the objects of the file.</summary>
    public ReferenceLoops Loops { get; } = new();

    /// <summary>Ends the work because objects of the file mean each other in a circle.</summary>
    /// <exception cref="ReadingEndedException">Always.</exception>
    public void EndForLoop()
    {
        Trip(
            new PrintedFailure(
                PrintedFailureKind.Damaged,
                "The PDF is damaged: parts of it refer to each other in a circle. Copy or download it again, or open it in a PDF viewer and print it to a new PDF file."
            )
        );
        throw new ReadingEndedException();
    }

    /// <summary>Ends the work because a table of a font speaks of more characters than there are.</summary>
    /// <exception cref="ReadingEndedException">Always.</exception>
    public void EndForFont() => End("has a font that speaks of more characters than there are");

    /// <summary>The work needs more memory than it may take.</summary>
    public void MemoryIsFull() =>
        Trip(
            new PrintedFailure(
                PrintedFailureKind.TooLarge,
                "Reading the document needs more memory than relist takes, so it was given up. Print only the pages with the listing to a new PDF file and read that."
            )
        );

    public void StartPage()
    {
        lettersOnPage = 0;
        operationsOnPage = 0;
        Check();
    }

    public void CountLetter()
    {
        letters++;
        if (letters > limits.Letters)
            End("has more than " + Number(limits.Letters) + " characters");
        if (++lettersOnPage > limits.LettersOnPage)
            End("has a page with more than " + Number(limits.LettersOnPage) + " characters");
    }

    public void CountOperation()
    {
        if (++operationsOnPage > limits.OperationsOnPage)
            End("has a page that draws more than " + Number(limits.OperationsOnPage) + " things");
        // The clock is dear compared with an operation.
        if ((operationsOnPage & 0xFF) == 0)
            Check();
    }

    /// <summary>Adds unpacked bytes of one part of the file, whose sum so far is given.</summary>
    public void CountUnpacked(long bytes, long ofThisPart)
    {
        unpacked += bytes;
        if (ofThisPart > limits.UnpackedPart || unpacked > limits.Unpacked)
            End("unpacks to more data than a document of text has");
        Check();
    }

    private static string Number(int value) => value.ToString("N0", System.Globalization.CultureInfo.InvariantCulture);

    private void End(string what)
    {
        Trip(
            new PrintedFailure(
                PrintedFailureKind.TooLarge,
                $"The document {what}, so it was given up. Print only the pages with the listing to a new PDF file and read that."
            )
        );
        throw new ReadingEndedException();
    }

    private void Trip(PrintedFailure what) => Interlocked.CompareExchange(ref failure, what, null);
}

/// <summary>The work on a document is to end; the guard knows why. Never leaves the reader.</summary>
internal sealed class ReadingEndedException : Exception;
