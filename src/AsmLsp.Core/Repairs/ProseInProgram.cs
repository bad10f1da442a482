using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Repairs;

/// <summary>A line of words that is no instruction and follows no comment: a remark, a caption, a title. A guess, since once only.</summary>
internal sealed class ProseInProgram : PrintCheck
{
    public override ImmutableArray<ProblemKind> Answers { get; } = [Catalogue.ProseInProgram];

    public override void Find(CheckedFile view)
    {
        foreach ((int line, LineShape shape) in view.Lines)
        {
            if (IsStrayName(view, line, shape))
            {
                view.Report(
                    Catalogue.ProseInProgram,
                    line,
                    view.Visible(line),
                    line,
                    Explains.WholeLine,
                    view.Quote(line)
                );
                continue;
            }

            if (
                !shape.Has(LineTraits.Prose)
                || shape.Has(LineTraits.CodeLike | LineTraits.Doubt | LineTraits.End)
                || view.IsExplained(line)
            )
                continue;
            if (
                (view.Role(line) & (LineRole.AfterEnd | LineRole.Skipped | LineRole.Body | LineRole.MacroCall)) != 0
                || view.TroubleOf(line) == Trouble.None
            )
                continue;
            LineSyntax syntax = view.Syntax(line);
            // 'nop nop nop' and 'return 0' are instructions with something after them; that is reported as such.
            if (
                syntax.OperationKind is OperationKind.Instruction or OperationKind.Assignment
                && !(shape.Has(LineTraits.FunctionWord) && shape.Has(LineTraits.NaturalOperation))
            )
                continue;
            view.Report(Catalogue.ProseInProgram, line, view.Visible(line), line, Explains.WholeLine, view.Quote(line));
        }
    }

    // A bare word whose name another line defines together with an operation: that line is its true place.
    private static bool IsStrayName(CheckedFile view, int line, LineShape shape)
    {
        int other = view.OtherDefinition(line);
        if (
            other < 0
            || view.IsExplained(line)
            || !shape.Has(LineTraits.LoneName)
            || shape.Has(LineTraits.HasComment)
            || view.Syntax(line).ColonToken >= 0
        )
            return false;
        return view.IsRead(line) && view.Syntax(other).OperationToken >= 0 && view.Syntax(other).LabelToken >= 0;
    }

    internal override void Offer(FixRequest request) =>
        request.Guess(
            "Make it a comment",
            Doubt.Remark("taken as a remark"),
            request.Edit(request.Problem.Place.Columns.Start, request.Problem.Place.Columns.Start, "; ")
        );
}
