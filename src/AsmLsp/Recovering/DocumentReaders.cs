using System.Collections.Immutable;
using AsmLsp.Core.Printed;
using AsmLsp.Documents;
using AsmLsp.Host.Scans;
using AsmLsp.Pdf;

namespace AsmLsp.Recovering;

/// <summary>The reader for every kind of document, put together: flowing text, PDF, pictures.</summary>
internal static class DocumentReaders
{
    /// <summary>A reader.</summary>
    /// <param name="pages">The pages of interest, from 1; empty for all. Others need not be read from pictures.</param>
    public static IPrintedDocumentReader For(ImmutableHashSet<int> pages) =>
        new FlowDocuments(new OcrReader(new PdfReader(), new ScanOcr(), pages));
}
