using System.Collections.Immutable;

namespace AsmLsp.Core.Disassembly;

/// <summary>Words that the source cannot give back as the HEX file has them.</summary>
/// <param name="Address">Word address of the first one.</param>
/// <param name="Message">What is wrong, for people.</param>
public sealed record DisassemblyDoubt(int Address, string Message);

/// <summary>A source made from words.</summary>
/// <param name="Text">The source, with LF line ends.</param>
/// <param name="Doubts">
/// What the source cannot give back, each also in a comment marked <c>;?</c>. Where there is none, the source has been assembled and gave
/// the very same words.
/// </param>
public sealed record DisassembledProgram(string Text, ImmutableArray<DisassemblyDoubt> Doubts);
