using AsmLsp.Core.Printed;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Text;

namespace AsmLsp.Host.Recovering;

/// <summary>A document, or a paste, with what was recovered from it.</summary>
/// <param name="Name">Its file name, for people.</param>
/// <param name="Bytes">Its file.</param>
/// <param name="Printed">Its printed lines; null for a paste.</param>
/// <param name="Pasted">The pasted text; null for a printed document.</param>
/// <param name="Result">What was recovered.</param>
public sealed record RecoveredDocument(
    string Name,
    ReadOnlyMemory<byte> Bytes,
    PrintedDocument? Printed,
    SourceText? Pasted,
    RecoveryResult Result
);
