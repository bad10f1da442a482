using System.Collections.Immutable;
using AsmLsp.Core.Fixes;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Recovery.Steps;

/// <summary>Reports the marks of doubts that nobody has settled yet, and removes one when a person accepts the line.</summary>
internal sealed class OpenDoubt : DocumentCheck
{
    public override ImmutableArray<ProblemKind> Answers { get; } = [Catalogue.OpenDoubt];

    public override void Find(DocumentView view)
    {
        foreach ((int line, LineShape shape) in view.Lines)
        {
            if (!shape.Has(LineTraits.Doubt) || DoubtMarker.Find(view.TextOf(line)) is not { } span) continue;
            string words = DoubtMarker.WordsOf(view.TextOf(line))!;
            view.Report(Catalogue.OpenDoubt, line, span, line, Explains.Nothing, words.Length == 0 ? "no reason is given" : words);
        }
    }

    internal override void Offer(FixRequest request)
    {
        string line = request.LineText;
        if (DoubtMarker.Find(line) is null) return;
        request.Guess("Accept as it stands", null, request.Edit(DoubtMarker.Remove(line).Length, line.Length, ""));
    }
}
