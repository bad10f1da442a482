using AsmLsp.Core.Printed;

namespace AsmLsp.Documents;

/// <summary>
/// Reads documents whose text flows: Word documents, OpenDocument texts, rich text, web pages. What they hold is a text like one
/// that a person copies out of them, with tables and text boxes in order. Nothing is loaded from anywhere else, and no script runs.
/// </summary>
/// <param name="inner">Reads every other kind of document.</param>
public sealed class FlowDocuments(IPrintedDocumentReader inner) : IPrintedDocumentReader
{
    /// <summary>The most characters of text, and of markup in one part: many times the longest printed listing.</summary>
    public const int MostCharacters = 32 * 1024 * 1024;

    /// <inheritdoc/>
    public PrintedReading Read(ReadOnlyMemory<byte> bytes, CancellationToken cancellation = default)
    {
        DocumentFileKind kind = DocumentFile.KindOf(bytes.Span);
        return kind is DocumentFileKind.Package or DocumentFileKind.RichText or DocumentFileKind.WebPage
            ? Read(bytes, kind)
            : inner.Read(bytes, cancellation);
    }

    private static PrintedReading Read(ReadOnlyMemory<byte> bytes, DocumentFileKind kind)
    {
        try
        {
            var text = new FlowText(MostCharacters);
            switch (kind)
            {
                case DocumentFileKind.RichText:
                    RichTextReader.Read(bytes.Span, text);
                    break;
                case DocumentFileKind.WebPage:
                    WebPageReader.Read(bytes, text);
                    break;
                case DocumentFileKind.Package when OpenDocumentReader.IsOne(bytes):
                    OpenDocumentReader.Read(bytes, text);
                    break;
                case DocumentFileKind.Package when WordReader.IsOne(bytes):
                    WordReader.Read(bytes, text);
                    break;
                default:
                    return Fails(
                        PrintedFailureKind.NotADocument,
                        "This file is neither a PDF, a picture, a text, a Word document, an OpenDocument text nor a web page. Save the document as PDF, and try again."
                    );
            }

            if (text.IsTooLong)
                return Fails(PrintedFailureKind.TooLarge, TooLarge);
            string all = text.ToString();
            return string.IsNullOrWhiteSpace(all)
                ? Fails(PrintedFailureKind.Empty, "This document holds no text.")
                : PrintedReading.OfText(all);
        }
        catch (Exception e) when (e is not OperationCanceledException and not OutOfMemoryException)
        {
            // Each library throws kinds of its own for broken files; whichever it is, the file cannot be read.
            return Fails(
                PrintedFailureKind.Damaged,
                $"This document is damaged: {FirstSentence(e.Message)} Open it in a word processor or browser, save it as PDF, and try again."
            );
        }
    }

    internal const string TooLarge =
        "This document holds more text than any printed listing. Copy the pages with the listing into a document of their own.";

    private static PrintedReading Fails(PrintedFailureKind kind, string message) => PrintedReading.Of(kind, message);

    private static string FirstSentence(string message)
    {
        string line = message.Split('\n')[0].Trim();
        return line.EndsWith('.') ? line : line + ".";
    }
}
