using System.Collections.Immutable;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Repairs;

/// <summary>Writes a number that is too large in hexadecimal, or that its comment calls decimal, as a decimal one.</summary>
internal sealed class WriteAsDecimal : FixProvider
{
    public override ImmutableArray<ProblemKind> Answers { get; } =
    [Catalogue.LiteralOutOfRange, Catalogue.DataOutOfRange, Catalogue.LooksDecimal];

    internal override void Offer(FixRequest request)
    {
        string number = request.Marked;
        if (
            number.Length is 0 or > 3
            || number.AsSpan().ContainsAnyExceptInRange('0', '9')
            || request.Program.FactsOf(request.File, request.Line).Radix != 16
        )
            return;
        if (int.Parse(number, System.Globalization.CultureInfo.InvariantCulture) <= 255)
            request.Guess($"Write .{number}, the decimal number", null, request.ReplaceMarked("." + number));
    }
}
