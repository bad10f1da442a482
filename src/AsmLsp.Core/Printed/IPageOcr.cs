using System.Collections.Immutable;

namespace AsmLsp.Core.Printed;

/// <summary>Reads text from the pictures of pages, with a text recognition (OCR) that is on the machine.</summary>
public interface IPageOcr
{
    /// <summary>
    /// Reads pages. Ends within a bounded time whatever the file is, and says every failure in its result; throws
    /// nothing but <see cref="OperationCanceledException"/>, and that only when the token asks for it.
    /// </summary>
    /// <param name="file">The whole file.</param>
    /// <param name="kind">A PDF, or a picture.</param>
    /// <param name="pages">The pages to read, from 1, in ascending order; empty for all.</param>
    /// <param name="cancellation">Ends the work early.</param>
    Recognition Recognize(
        ReadOnlyMemory<byte> file,
        DocumentFileKind kind,
        ImmutableArray<int> pages,
        CancellationToken cancellation = default
    );
}

/// <summary>The pages that were read, or why there are none.</summary>
/// <param name="Pages">The pages in order; those that could not be read are left out and reported in the notes.</param>
/// <param name="Notes">What a person should know about how they were read.</param>
/// <param name="Failure">Why nothing could be read; null where something was.</param>
public sealed record Recognition(ImmutableArray<OcrPage> Pages, ImmutableArray<string> Notes, PrintedFailure? Failure)
{
    /// <summary>The pages that could not be read, by their numbers, in ascending order.</summary>
    public ImmutableArray<int> Unread { get; init; } = [];

    /// <summary>Nothing, for a reason.</summary>
    public static Recognition Failed(PrintedFailureKind kind, string message) =>
        new([], [], new PrintedFailure(kind, message));
}
