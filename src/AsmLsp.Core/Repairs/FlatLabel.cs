using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Repairs;

/// <summary>
/// A name alone on its line that no line uses, in a text whose labels and operations were moved into one column. No macro has that name,
/// so the printed program can only have been built with a label there.
/// </summary>
internal sealed class FlatLabel : PrintCheck
{
    private const int LeastOperations = 4;

    // The fix that moves labels answers it.
    public override CheckTurn Turn => CheckTurn.Last;

    public override ImmutableArray<ProblemKind> Answers { get; } = [];

    public override void Find(CheckedFile view)
    {
        bool? isFlat = null;
        foreach ((int line, LineShape shape) in view.Lines)
        {
            if (
                !shape.Has(LineTraits.LoneName)
                || shape.Has(LineTraits.CodeLike | LineTraits.Doubt)
                || shape.Column == 0
                || (view.TroubleOf(line) & Trouble.UnknownOperation) == 0
                || view.IsExplained(line)
                || !view.IsRead(line)
            )
                continue;
            string name = view.CodeOf(line);
            if (OperationWords.KindOf(name) != OperationKind.Unknown || view.MayHideCode(line))
                continue;
            if (!(isFlat ??= IsFlat(view)))
                return;
            view.Report(Catalogue.LabelIndented, line, view.Syntax(line).CodeSpan, line, Explains.WholeLine, name);
        }
    }

    internal override void Offer(FixRequest request) { }

    // Instructions without a label begin in the columns where labels with an operation after them begin, and nothing is left of these.
    private static bool IsFlat(CheckedFile view)
    {
        int operations = 0,
            others = 0,
            least = int.MaxValue;
        for (int pass = 0; pass < 2; pass++)
        {
            for (int i = 0; i < view.LineCount; i++)
            {
                LineShape shape = view.Shape(i);
                if (shape.Has(LineTraits.Blank | LineTraits.CommentOnly) || (view.Role(i) & LineRole.AfterEnd) != 0)
                    continue;
                if (pass == 0)
                    least = Math.Min(least, shape.Column);
                else if (view.Syntax(i).OperationKind == OperationKind.Instruction)
                    _ = shape.Column == least ? operations++ : others++;
            }
        }

        return least > 0 && operations >= LeastOperations && others * 8 <= operations;
    }
}
