using System.Collections.Immutable;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Repairs;

/// <summary>
/// Texts in quotes of a program that was pasted without its runs of blanks. A doubt goes onto the line before the columns are
/// made again, since nothing shows the loss after that.
/// </summary>
internal sealed class BlanksLost : PrintCheck
{
    public override ImmutableArray<ProblemKind> Answers { get; } = [Catalogue.BlanksLost];

    public override void Find(CheckedFile view)
    {
        if (!LostBlanks.IsSeenIn(view.File.Text, isFlat: true))
            return;
        for (int line = 0; line < view.LineCount; line++)
            if (
                LostBlanks.TextWithBlanks(view.Syntax(line)) is { } text
                && view.IsRead(line)
                && !view.Shape(line).Has(LineTraits.Doubt)
            )
                view.Report(Catalogue.BlanksLost, line, text, line, Explains.Nothing);
    }

    internal override void Offer(FixRequest request)
    {
        string line = request.LineText;
        string marked = DoubtMark.Add(line, new Doubt(LostBlanks.Question));
        if (marked.StartsWith(line, StringComparison.Ordinal))
            request.Certain("Mark the doubt", request.Edit(line.Length, line.Length, marked[line.Length..]));
    }
}
