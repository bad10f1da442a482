using System.Collections.Immutable;
using AsmLsp.Core.Layout;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Repairs;

/// <summary>Indents an operation that is in column 1; blanks only.</summary>
internal sealed class IndentOperation : FixProvider
{
    public override ImmutableArray<ProblemKind> Answers { get; } = [Catalogue.OperationNotIndented];

    internal override void Offer(FixRequest request)
    {
        if (request.Problem.Place.Columns.Start == 0)
            request.Certain($"Indent {request.Marked}", request.Edit(0, 0, ColumnStyle.Of(request.Text).Indent));
    }
}
