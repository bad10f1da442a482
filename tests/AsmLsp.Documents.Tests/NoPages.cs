using AsmLsp.Core.Printed;

namespace AsmLsp.Documents.Tests;

/// <summary>Takes the place of the reader of documents with pages, which none of these tests needs.</summary>
internal sealed class NoPages : IPrintedDocumentReader
{
    public PrintedReading Read(ReadOnlyMemory<byte> bytes, CancellationToken cancellation = default) =>
        throw new InvalidOperationException("a document with pages was not expected");
}
