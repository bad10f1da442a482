using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Repairs;

/// <summary>
/// A text that is indented as a whole, as it was inside a page: the labels make a column of their own, only not the
/// first one. Known from a text without labels by the instructions, which are deeper.
/// </summary>
internal sealed class WholeTextIndented : PrintCheck
{
    public override CheckTurn Turn => CheckTurn.Last;

    public override ImmutableArray<ProblemKind> Answers { get; } = [Catalogue.WholeTextIndented];

    public override void Find(CheckedFile view)
    {
        int indent = int.MaxValue,
            firstLine = -1,
            labelLine = -1;
        string? prefix = null;
        int atIndent = 0,
            deeper = 0;
        for (int pass = 0; pass < 2; pass++)
        {
            for (int i = 0; i < view.LineCount; i++)
            {
                LineShape shape = view.Shape(i);
                if (shape.Has(LineTraits.Blank | LineTraits.CommentOnly))
                    continue;
                if ((view.Role(i) & LineRole.AfterEnd) != 0 || view.IsExplained(i) || shape.Has(LineTraits.Doubt))
                    continue;
                string text = view.TextOf(i);
                if (pass == 0)
                {
                    if (shape.Column == 0)
                        return;
                    if (firstLine < 0)
                        firstLine = i;
                    prefix ??= text[..shape.Column];
                    indent = Math.Min(indent, Math.Min(shape.Column, prefix.AsSpan().CommonPrefixLength(text)));
                    if (indent == 0)
                        return;
                    continue;
                }

                LineSyntax syntax = view.Syntax(i);
                if (shape.Column > indent)
                {
                    if (syntax.OperationKind == OperationKind.Instruction && syntax.LabelToken < 0)
                        deeper++;
                    continue;
                }

                bool isLabel =
                    syntax.LabelToken >= 0
                    || (
                        shape.Has(LineTraits.LoneName)
                        && syntax.OperationKind == OperationKind.Unknown
                        && (view.Role(i) & (LineRole.MacroCall | LineRole.BlockMember)) == 0
                    );
                if (isLabel && labelLine < 0)
                    labelLine = i;
                if (!isLabel && syntax.OperationKind == OperationKind.Instruction)
                    atIndent++;
            }
        }

        // A few instructions in the labels' column are slips, or words of a torn comment.
        if (labelLine < 0 || deeper == 0 || atIndent * 8 > deeper)
            return;
        string by =
            prefix!.AsSpan(0, indent).Contains('\t') ? "by its first blanks"
            : indent == 1 ? "by 1 blank"
            : $"by {indent.ToString(System.Globalization.CultureInfo.InvariantCulture)} blanks";
        view.Report(
            Catalogue.WholeTextIndented,
            firstLine,
            TextSpan.FromBounds(0, indent),
            firstLine,
            Explains.Columns,
            new Indent(indent),
            by
        );
    }

    private sealed record Indent(int Columns) : ProblemFacts;

    internal override void Offer(FixRequest request)
    {
        if (request.Problem.Facts is not Indent { Columns: var indent })
            return;
        var edits = new List<TextEdit>();
        int start = 0;
        foreach (TextLine line in request.Text.Lines)
        {
            int blanks = 0;
            while (blanks < indent && blanks < line.Text.Length && line.Text[blanks] is ' ' or '\t')
                blanks++;
            if (blanks > 0)
                edits.Add(new TextEdit(new TextSpan(start, blanks), ""));
            start += line.FullLength;
        }

        request.Certain("Move the whole text to the left", [.. edits]);
    }
}
