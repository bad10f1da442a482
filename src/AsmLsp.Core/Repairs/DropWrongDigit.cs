using System.Collections.Immutable;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Repairs;

/// <summary>Takes letters off the end of a number that are no digits of it: '0xFFZ'.</summary>
internal sealed class DropWrongDigit : FixProvider
{
    public override ImmutableArray<ProblemKind> Answers { get; } = [Catalogue.BadNumber];

    internal override void Offer(FixRequest request)
    {
        string number = request.Marked;
        if (!number.StartsWith("0x", StringComparison.OrdinalIgnoreCase))
            return;
        int digits = 2;
        while (digits < number.Length && char.IsAsciiHexDigit(number[digits]))
            digits++;
        if (digits > 2 && digits < number.Length)
            request.Guess($"Write {number[..digits]}", $"was {number}", request.ReplaceMarked(number[..digits]));
    }
}
