using System.Collections.Immutable;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Fixes;

/// <summary>Writes a name in the capital and small letters that it is defined with.</summary>
internal sealed class UseDefinedCase : FixProvider
{
    public override ImmutableArray<ProblemKind> Answers { get; } = [Catalogue.NameDiffersByCase];

    internal override void Offer(FixRequest request)
    {
        if (request.Marked == request.Problem.Arguments[0]) request.Certain($"Write {request.Problem.Arguments[1]}", request.ReplaceMarked(request.Problem.Arguments[1]));
    }
}
