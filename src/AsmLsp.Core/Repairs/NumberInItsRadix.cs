using System.Collections.Immutable;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Repairs;

/// <summary>Writes a number that can be read in two ways in the one that it is read in.</summary>
internal sealed class NumberInItsRadix : FixProvider
{
    public override ImmutableArray<ProblemKind> Answers { get; } = [Catalogue.AmbiguousNumber];

    internal override void Offer(FixRequest request)
    {
        string sure = request.Problem.Arguments[2];
        if (request.Marked == request.Problem.Arguments[0])
            request.Certain($"Write {sure}", request.ReplaceMarked(sure));
    }
}
