using AsmLsp.Core.Doubts;

namespace AsmLsp.Core.Recovery.Evidence;

/// <summary>A reason to look at the page.</summary>
/// <param name="Mark">What is on the line.</param>
/// <param name="Message">A sentence for the report.</param>
internal sealed record ReadingDoubt(Doubt Mark, string Message);
