using System.Collections.Immutable;
using System.Globalization;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Recovery.Evidence;
using AsmLsp.Core.Recovery.Listings;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Text;

namespace AsmLsp.Host.Recovering;

/// <summary>Reads a document or a paste and recovers its program: for the command line and for editors alike.</summary>
public static class DocumentRecoverer
{
    /// <summary>The longest document, in bytes.</summary>
    public const int MostBytes = 200 * 1024 * 1024;

    /// <summary>The longest pasted text, in bytes. A thousand printed pages of a hundred lines have less.</summary>
    public const int MostTextBytes = 2 * 1024 * 1024;

    /// <summary>The most bytes that are read of a document of some kind.</summary>
    public static int MostBytesOf(DocumentFileKind kind) => kind == DocumentFileKind.Text ? MostTextBytes : MostBytes;

    /// <summary>Recovers a document.</summary>
    /// <exception cref="OperationCanceledException">The token asked for it.</exception>
    public static RecoveryOutcome Recover(DocumentRequest request, CancellationToken stop)
    {
        ArgumentNullException.ThrowIfNull(request);
        if (request.Open is { } open)
            return OfText(request, open, ReadOnlyMemory<byte>.Empty, null);
        ReadOnlyMemory<byte> bytes;
        if (request.Bytes is { } given)
            bytes = given;
        else if (FileLoader.ReadBytes(request.Path, MostBytes, out byte[] read) is { } failure)
            return Failed(failure.Message);
        else
            bytes = read;
        if (bytes.IsEmpty)
            return Failed($"{request.Name} is empty (0 bytes). Copy or download it again. Nothing is written.");
        DocumentFileKind kind = DocumentFile.KindOf(bytes.Span);
        if (kind == DocumentFileKind.Text)
        {
            if (bytes.Length > MostTextBytes)
                return Failed(TooLong(request, bytes.Length));
            return new FileLoader()
                .Decode(request.Path, bytes.Span)
                .TryGet(out LoadedFile? file, out LoadFailure? unreadable)
                ? OfText(request, file.Text, bytes, file.Note)
                : Failed(unreadable.Message);
        }

        if (request.Reader is not { } reader)
            return Failed("This server was started without a reader for documents and pictures.");
        PrintedReading reading = reader().Read(bytes, stop);
        if (reading.FlowingText is { } flowing)
            return OfText(request, SourceText.From(flowing), bytes, null);
        if (!reading.TryGet(out PrintedDocument? document, out PrintedFailure? fault))
            return Failed(fault.Message);
        DocumentIncludes includes = IncludesOf(request);
        RecoveryResult result = DocumentRecovery.Run(document, OptionsOf(request, includes));
        return new RecoveryOutcome(
            new RecoveredDocument(request.Name, bytes, document, null, result),
            null,
            [.. includes.Notes]
        );
    }

    /// <summary>Recovers another listing of a document that was read already.</summary>
    public static RecoveryResult Another(DocumentRequest request, RecoveredDocument read)
    {
        ArgumentNullException.ThrowIfNull(read);
        DocumentRecoveryOptions options = OptionsOf(request, IncludesOf(request));
        return read.Printed is { } printed
            ? DocumentRecovery.Run(printed, options)
            : PasteRecovery.Run(read.Pasted!, options);
    }

    private static RecoveryOutcome OfText(
        DocumentRequest request,
        SourceText text,
        ReadOnlyMemory<byte> bytes,
        string? note
    )
    {
        string content = text.ToString();
        if (content.Length > MostTextBytes)
            return Failed(TooLong(request, content.Length));
        string lined = PastedText.WithLineEnds(content);
        // What is written ends with a line end, as every document does.
        if (lined.Length > 0 && lined[^1] is not ('\n' or '\r'))
            lined += "\n";
        if (!ReferenceEquals(lined, content))
            text = SourceText.From(lined);
        text = text.WithEncoding(TextEncoding.Utf8);
        DocumentIncludes includes = IncludesOf(request);
        RecoveryResult result = PasteRecovery.Run(text, OptionsOf(request, includes));
        return new RecoveryOutcome(
            new RecoveredDocument(request.Name, bytes, null, text, result),
            null,
            [.. (note is null ? (string[])[] : [note]), .. includes.Notes]
        );
    }

    private static DocumentIncludes IncludesOf(DocumentRequest request) =>
        new(
            Path.IsPathFullyQualified(request.Path) ? Path.GetDirectoryName(request.Path) : null,
            request.Includes,
            request.OpenFile
        );

    private static DocumentRecoveryOptions OptionsOf(DocumentRequest request, DocumentIncludes includes) =>
        new()
        {
            Text = new RecoveryOptions
            {
                Name = request.Path,
                Includes = includes,
                Assembly = request.Assembly,
            },
            Pages = request.Pages,
            Listing = request.Listing,
            KeepProse = request.KeepProse,
        };

    private static string TooLong(DocumentRequest request, int length) =>
        string.Create(
            CultureInfo.InvariantCulture,
            $"{request.Name} is {length / (1024.0 * 1024.0):0.#} MB long; pasted text is recovered up to {MostTextBytes / (1024 * 1024)} MB, many times the longest printed listing."
        );

    private static RecoveryOutcome Failed(string why) => new(null, why, []);
}
