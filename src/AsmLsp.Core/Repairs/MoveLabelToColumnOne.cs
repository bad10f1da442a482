using System.Collections.Immutable;
using AsmLsp.Core.Layout;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Repairs;

/// <summary>Moves a label to column 1; what follows it stays in its column. Blanks only.</summary>
internal sealed class MoveLabelToColumnOne : FixProvider
{
    public override ImmutableArray<ProblemKind> Answers { get; } = [Catalogue.LabelIndented];

    internal override void Offer(FixRequest request)
    {
        string line = request.LineText;
        TextSpan label = request.Problem.Place.Columns;
        if (label.Start == 0 || label.End > line.Length || !line.AsSpan(0, label.Start).IsWhiteSpace())
            return;
        var edits = new List<TextEdit> { request.Edit(0, label.Start, "") };
        int end = label.End < line.Length && line[label.End] == ':' ? label.End + 1 : label.End;
        int next = end;
        while (next < line.Length && Lexer.IsBlank(line[next]))
            next++;
        ColumnStyle style = ColumnStyle.Of(request.Text);
        int column = ColumnStyle.Advance(line.AsSpan(0, next), 0, style.TabSize);
        if (next < line.Length && next > end)
            edits.Add(request.Edit(end, next, style.Gap(end - label.Start, column)));
        request.Certain($"Move {request.Marked} to column 1", [.. edits]);
    }
}
