using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Layout;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Repairs;

/// <summary>
/// A word alone in column 1 that nobody asks for as a label, and that is an instruction but for one slip: <c>gotoloop</c>,
/// <c>retur</c>. As a label it makes no word, and nothing else would say.
/// </summary>
internal sealed class LabelOrOperation : PrintCheck
{
    public override ImmutableArray<ProblemKind> Answers { get; } = [Catalogue.LabelOrOperation];

    public override void Find(CheckedFile view)
    {
        foreach ((int line, LineShape shape) in view.Lines)
        {
            if (
                !shape.Has(LineTraits.LoneName)
                || shape.Has(LineTraits.Doubt | LineTraits.CodeLike)
                || view.IsExplained(line)
                || !view.IsRead(line)
            )
                continue;
            LineSyntax syntax = view.Syntax(line);
            if (syntax.ColonToken >= 0 || (view.Role(line) & (LineRole.MacroCall | LineRole.BlockMember)) != 0)
                continue;
            string word = syntax.Text[syntax.CodeSpan.Start..syntax.CodeSpan.End];
            if (view.Program.FindSymbol(word) is not { Kind: SymbolKind.Label, IsReferenced: false })
                continue;
            if (
                (
                    HiddenCode.InsteadOfLabel(word, name => view.IsKnown(name, line))
                    ?? HiddenCode.Call(view.Program, word)
                ) is
                { } meant
            )
                view.Report(Catalogue.LabelOrOperation, line, syntax.CodeSpan, line, Explains.WholeLine, word, meant);
        }
    }

    internal override void Offer(FixRequest request)
    {
        string meant = request.Problem.Arguments[1];
        string indent = request.Problem.Place.Columns.Start == 0 ? Layout.ColumnStyle.Of(request.Text).Indent : "";
        request.Guess($"Write '{meant}'", Doubt.Was(request.Marked, "a label?"), request.ReplaceMarked(indent + meant));
    }
}
