using System.Collections.Immutable;
using AsmLsp.Core.Layout;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Repairs;

/// <summary>Makes what comes after the operands a comment, or an instruction on a line of its own.</summary>
internal sealed class CommentOutRest : FixProvider
{
    public override ImmutableArray<ProblemKind> Answers { get; } = [Catalogue.TextAfterOperands];

    internal override void Offer(FixRequest request)
    {
        TextSpan rest = request.Problem.Place.Columns;
        string line = request.LineText;
        if (rest.Start == 0 || rest.End > line.Length || rest.Length == 0)
            return;
        request.Guess("Make it a comment", null, request.Edit(rest.Start, rest.Start, "; "));
        if (
            request.Marked.IndexOf(' ', StringComparison.Ordinal) is var blank
            && OperationWords.KindOf(blank < 0 ? request.Marked : request.Marked.AsSpan(0, blank))
                != OperationKind.Instruction
        )
            return;
        int gap = rest.Start;
        while (gap > 0 && Lexer.IsBlank(line[gap - 1]))
            gap--;
        request.Guess(
            "Put it on a line of its own",
            null,
            request.Edit(gap, rest.Start, request.Text.UsualEnding + ColumnStyle.Of(request.Text).Indent)
        );
    }
}
