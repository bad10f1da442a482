using System.Collections.Immutable;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Repairs;

/// <summary>Says that the result goes back to the register, or to W, where the line leaves it open.</summary>
internal sealed class AddDestination : FixProvider
{
    public override ImmutableArray<ProblemKind> Answers { get; } = [Catalogue.DestinationLeftOut];

    internal override void Offer(FixRequest request)
    {
        TextSpan operands = request.Syntax.OperandSpan;
        if (operands.Length == 0 || request.Syntax.Operands.Length != 1)
            return;
        request.Guess(
            "Add ',f': the result goes back to the register, as it is read now",
            null,
            request.Edit(operands.End, operands.End, ",f")
        );
        request.Guess("Add ',w': the result goes to W", null, request.Edit(operands.End, operands.End, ",w"));
    }
}
