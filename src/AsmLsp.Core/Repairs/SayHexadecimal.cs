using System.Collections.Immutable;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Repairs;

/// <summary>Says with <c>0x</c> that a number is hexadecimal though its comment sounds decimal; the word stays the same.</summary>
internal sealed class SayHexadecimal : FixProvider
{
    public override ImmutableArray<ProblemKind> Answers { get; } = [Catalogue.LooksDecimal];

    internal override void Offer(FixRequest request)
    {
        string number = request.Problem.Arguments[0];
        if (request.Marked == number)
            request.Guess($"Write 0x{number}, the hexadecimal number", null, request.ReplaceMarked("0x" + number));
    }
}
