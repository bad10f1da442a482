using System.Collections.Immutable;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Fixes;

/// <summary>Writes a name in the capital and small letters that it is defined with.</summary>
internal sealed class UseDefinedCase : FixProvider
{
    public override ImmutableArray<ProblemKind> Answers { get; } = [Catalogue.NameDiffersByCase];

    internal override void Offer(FixRequest request)
    {
        string written = request.Problem.Arguments[0], defined = request.Problem.Arguments[1];
        if (request.Marked != written) return;
        // 'I' may be the name i, or a 1 that was misread.
        bool mayBeDigit = written is "I" or "l" or "O" or "o";
        request.Add(mayBeDigit ? Certainty.Guess : Certainty.Certain, $"Write {defined}", $"was {written}", request.ReplaceMarked(defined));
    }
}
