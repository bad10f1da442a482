using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Fixes;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Steps;

/// <summary>A line of words that is no instruction and follows no comment: a remark, a caption, a title. A guess, since once only.</summary>
internal sealed class ProseInProgram : DocumentCheck
{
    public override ImmutableArray<ProblemKind> Answers { get; } = [Catalogue.ProseInProgram];

    public override void Find(DocumentView view)
    {
        foreach ((int line, LineShape shape) in view.Lines)
        {
            if (!shape.Has(LineTraits.Prose) || shape.Has(LineTraits.CodeLike | LineTraits.Doubt | LineTraits.End) || view.IsExplained(line)) continue;
            if ((view.Role(line) & (LineRole.AfterEnd | LineRole.Skipped | LineRole.Body | LineRole.MacroCall)) != 0 || view.TroubleOf(line) == Trouble.None) continue;
            LineSyntax syntax = view.Syntax(line);
            // 'nop nop nop' and 'return 0' are instructions with something behind them; that is reported as such.
            if (syntax.OperationKind is OperationKind.Instruction or OperationKind.Assignment && !(shape.Has(LineTraits.FunctionWord) && shape.Has(LineTraits.NaturalOperation))) continue;
            view.Report(Catalogue.ProseInProgram, line, view.Visible(line), line, Explains.WholeLine, view.Quote(line));
        }
    }

    internal override void Offer(FixRequest request) =>
        request.Guess("Make it a comment", "taken as a remark", request.Edit(request.Problem.Place.Columns.Start, request.Problem.Place.Columns.Start, "; "));
}
