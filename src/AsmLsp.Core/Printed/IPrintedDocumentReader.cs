using System.Diagnostics.CodeAnalysis;

namespace AsmLsp.Core.Printed;

/// <summary>Reads the printed lines of a document file.</summary>
public interface IPrintedDocumentReader
{
    /// <summary>
    /// Reads a document. Ends within a bounded time whatever the bytes are, and says every failure in its result;
    /// throws nothing but <see cref="OperationCanceledException"/>, and that only when the token asks for it.
    /// </summary>
    /// <param name="bytes">The whole file.</param>
    /// <param name="cancellation">Ends the work early.</param>
    PrintedReading Read(ReadOnlyMemory<byte> bytes, CancellationToken cancellation = default);
}

/// <summary>Why a document gives no printed lines.</summary>
public enum PrintedFailureKind
{
    /// <summary>It asks for a password.</summary>
    Encrypted,

    /// <summary>It holds pictures of pages and no text.</summary>
    ImageOnly,

    /// <summary>Its letters can be seen, but the document does not say which they are.</summary>
    Illegible,

    /// <summary>It is another kind of file.</summary>
    NotADocument,

    /// <summary>It is broken beyond reading.</summary>
    Damaged,

    /// <summary>It is larger, or takes longer, than any printed listing should.</summary>
    TooLarge,

    /// <summary>It has no text and no pictures.</summary>
    Empty,

    /// <summary>It holds pictures of pages, and what it takes to read those is not installed.</summary>
    NoOcr,
}

/// <summary>A failure, with words for a person.</summary>
/// <param name="Kind">The reason.</param>
/// <param name="Message">What is wrong and what to do.</param>
public sealed record PrintedFailure(PrintedFailureKind Kind, string Message);

/// <summary>The pages of a document, the text of one that has no pages of its own, or the reason why there is neither.</summary>
public readonly record struct PrintedReading
{
    private PrintedReading(PrintedDocument? document, PrintedFailure? failure, string? flowingText = null) =>
        (Document, Failure, FlowingText) = (document, failure, flowingText);

    /// <summary>The document, or null.</summary>
    public PrintedDocument? Document { get; }

    /// <summary>The reason, or null.</summary>
    public PrintedFailure? Failure { get; }

    /// <summary>The text of a document without pages, such as a web page, each line ended by LF; else null.</summary>
    public string? FlowingText { get; }

    /// <summary>A document without pages that was read.</summary>
    public static PrintedReading OfText(string text) => new(null, null, text);

    /// <summary>A document that was read.</summary>
    public static PrintedReading Of(PrintedDocument document) => new(document, null);

    /// <summary>A document that could not be read.</summary>
    public static PrintedReading Of(PrintedFailureKind kind, string message) => new(null, new(kind, message));

    /// <summary>Whether there is a document.</summary>
    public bool TryGet(
        [NotNullWhen(true)] out PrintedDocument? document,
        [NotNullWhen(false)] out PrintedFailure? failure
    )
    {
        (document, failure) = (Document, Failure);
        return document is not null;
    }
}
