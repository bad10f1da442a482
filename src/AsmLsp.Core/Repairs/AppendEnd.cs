using System.Collections.Immutable;
using AsmLsp.Core.Layout;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Repairs;

/// <summary>Closes the program with its end.</summary>
internal sealed class AppendEnd : FixProvider
{
    public override ImmutableArray<ProblemKind> Answers { get; } = [Catalogue.EndMissing];

    internal override void Offer(FixRequest request)
    {
        SourceText text = request.Text;
        int line = request.Line;
        string ending = text[line].Ending;
        int end = text[line].Text.Length;
        request.Guess(
            "Close the program with 'end'",
            null,
            request.Edit(end, end, $"{(ending.Length > 0 ? ending : text.UsualEnding)}{ColumnStyle.Of(text).Indent}end")
        );
    }
}
