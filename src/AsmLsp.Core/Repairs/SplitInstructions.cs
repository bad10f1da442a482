using System.Collections.Immutable;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Layout;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Repairs;

/// <summary>Puts two instructions that are on one line on lines of their own.</summary>
internal sealed class SplitInstructions : FixProvider
{
    public override ImmutableArray<ProblemKind> Answers { get; } = [Catalogue.LabelNamedLikeOperation];

    internal override void Offer(FixRequest request)
    {
        // In a macro's call the line is read otherwise than it is.
        if (
            request.Syntax.OperationToken < 0
            || request.Problem.Place.Columns.End > request.Syntax.Tokens[request.Syntax.OperationToken].Start
        )
            return;
        int operation = request.Syntax.Tokens[request.Syntax.OperationToken].Start;
        string indent = ColumnStyle.Of(request.Text).Indent;
        request.Guess(
            "Put the two on lines of their own",
            Doubt.Extent("printed in one line"),
            request.Edit(0, 0, indent),
            request.Edit(request.Problem.Place.Columns.End, operation, request.Text.UsualEnding + indent)
        );
    }
}
