using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Fixes;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Recovery.Steps;

/// <summary>
/// The rest of a comment on a line of its own, without its mark. It is certain where the line reads as words and
/// makes nothing; where it makes a word ('return to start'), or could be the call of a macro, a person decides.
/// </summary>
internal sealed class WrappedComment : DocumentCheck
{
    private const string MarkOnly = "mark";

    public override ImmutableArray<ProblemKind> Answers { get; } = [Catalogue.CommentWithoutMark, Catalogue.CommentOrInstruction];

    public override void Find(DocumentView view)
    {
        var rests = new HashSet<int>();
        foreach (int line in Candidates(view, rests))
        {
            LineShape shape = view.Shape(line);
            if (shape.Has(LineTraits.Blank | LineTraits.CommentOnly | LineTraits.HasComment) || view.IsExplained(line)) continue;
            LineRole role = view.Role(line);
            if ((role & (LineRole.AfterEnd | LineRole.MacroCall)) != 0 || view.Syntax(line).ColonToken >= 0) continue;
            int above = CommentAbove(view, line, rests);
            if (above < 0) continue;
            switch (Judge(view, line, shape, above, rests))
            {
                case Verdict.Comment:
                    rests.Add(line);
                    view.Report(Catalogue.CommentWithoutMark, line, view.Visible(line), line, Explains.WholeLine, view.Quote(line));
                    break;
                case Verdict.LikelyComment:
                    rests.Add(line);
                    view.Report(Catalogue.CommentOrInstruction, line, view.Visible(line), line, Explains.WholeLine, view.Quote(line));
                    break;
                case Verdict.LikelyInstruction:
                    view.Report(Catalogue.CommentOrInstruction, line, view.Visible(line), line, Explains.WholeLine, view.Quote(line), MarkOnly);
                    break;
            }
        }
    }

    internal override void Offer(FixRequest request)
    {
        TextSpan span = request.Problem.Place.Columns;
        TextEdit comment = request.Edit(span.Start, span.Start, "; ");
        if (request.Problem.Kind == Catalogue.CommentWithoutMark)
        {
            request.Certain("Make it a comment", comment);
            return;
        }

        if (request.Problem.Arguments.Length > 1)
        {
            request.Guess("Keep it as an instruction, with a doubt", "or the rest of the comment above?", request.Edit(request.LineText.Length, request.LineText.Length, " ;? or the rest of the comment above?"));
            request.Guess("Make it a comment", null, comment);
            return;
        }

        request.Guess("Make it a comment", "taken as the rest of the comment above", comment);
    }

    // The suspicious lines, and plain code directly under a comment that breaks off: that may be its last word.
    private static IEnumerable<int> Candidates(DocumentView view, HashSet<int> rests)
    {
        int next = 0;
        TextLine? before = null;
        int number = 0;
        foreach (TextLine line in view.File.Text.Lines)
        {
            bool suspicious = next < view.Lines.Count && view.Lines[next].Line == number;
            if (suspicious) next++;
            if (suspicious || rests.Contains(number - 1) || (before is not null && BreaksOff(before))) yield return number;
            before = line;
            number++;
        }
    }

    private static bool BreaksOff(TextLine line)
    {
        LineShape shape = LineShape.Of(line);
        return shape.Has(LineTraits.HasComment) && !shape.Has(LineTraits.Doubt) && LineShape.IsUnfinished(line.Text);
    }

    private enum Verdict
    {
        Nothing,
        Comment,
        LikelyComment,
        LikelyInstruction,
    }

    private static Verdict Judge(DocumentView view, int line, LineShape shape, int above, HashSet<int> rests)
    {
        Trouble trouble = view.TroubleOf(line);
        LineSyntax syntax = view.Syntax(line);
        bool makesWords = view.Words(line) > 0 || shape.Has(LineTraits.End) || (view.Role(line) & LineRole.Body) != 0;
        LineShape comment = view.Shape(above);
        bool unfinished = LineShape.IsUnfinished(view.TextOf(above));
        bool aligned = comment.CommentColumn >= 12 && Math.Abs(shape.Column - comment.CommentColumn) <= 2;
        bool isName = syntax.OperationToken < 0 && syntax.OperandSpan.Length == 0;
        bool known = syntax.OperationKind is OperationKind.Instruction or OperationKind.Assignment;

        if (isName || (shape.Has(LineTraits.LoneName) && syntax.OperationKind == OperationKind.Unknown))
        {
            // A lone word makes nothing; it is a label, unless it stands under the comment's text or ends its sentence.
            if ((view.Role(line) & LineRole.BlockMember) != 0) return aligned || unfinished ? Verdict.LikelyComment : Verdict.Nothing;
            if (view.Program.FindSymbol(syntax.Text[syntax.CodeSpan.Start..syntax.CodeSpan.End]) is { IsReferenced: true }) return Verdict.Nothing;
            if (aligned && !known) return Verdict.Comment;
            return unfinished || rests.Contains(above) ? Verdict.LikelyComment : Verdict.Nothing;
        }

        if (!shape.Has(LineTraits.CodeLike))
        {
            bool troubled = trouble != Trouble.None || (view.Role(line) & (LineRole.Body | LineRole.BlockMember | LineRole.Skipped)) != 0;
            if (makesWords) return shape.Has(LineTraits.Prose) || unfinished || aligned || (trouble & Trouble.Leftover) != 0 && HasTwoWordsOver(view, line) ? Verdict.LikelyComment : Verdict.Nothing;
            if (!troubled && !shape.Has(LineTraits.Prose)) return Verdict.Nothing;
            if ((view.Role(line) & LineRole.BlockMember) != 0) return shape.Has(LineTraits.Prose) || aligned ? Verdict.LikelyComment : Verdict.Nothing;
            if (shape.Has(LineTraits.Prose) || aligned) return Verdict.Comment;
            // Two or three words without a known operation: the call of a macro whose file is missing reads the same.
            return unfinished || shape.Has(LineTraits.FunctionWord) || rests.Contains(above) ? Verdict.LikelyComment : Verdict.Nothing;
        }

        if (aligned && !view.Shape(above).Has(LineTraits.CommentOnly) && shape.Column > 20) return Verdict.LikelyComment;
        if (!unfinished && !rests.Contains(above)) return Verdict.Nothing;
        if ((trouble & (Trouble.UndefinedName | Trouble.Leftover)) != 0) return Verdict.LikelyComment;
        return unfinished ? Verdict.LikelyInstruction : Verdict.Nothing;
    }

    private static bool HasTwoWordsOver(DocumentView view, int line)
    {
        string operands = view.Syntax(line).OperandText;
        return operands.Contains(' ', StringComparison.Ordinal) && !operands.Contains(',', StringComparison.Ordinal);
    }

    // The line whose comment this one may go on with; -1 where there is none. A page break may lie between.
    private static int CommentAbove(DocumentView view, int line, HashSet<int> rests)
    {
        bool page = false;
        for (int i = line - 1; i >= 0 && line - i < 16; i--)
        {
            if (rests.Contains(i) || view.Shape(i).Has(LineTraits.HasComment)) return i;
            if (view.IsFurniture(i))
            {
                page = true;
                continue;
            }

            if (!view.Shape(i).Has(LineTraits.Blank)) return -1;
            // A blank line ends a comment, except where the page ends.
            if (!page && !AnyFurnitureAbove(view, i)) return -1;
        }

        return -1;
    }

    private static bool AnyFurnitureAbove(DocumentView view, int line)
    {
        for (int i = line; i >= 0 && line - i < 6; i--)
        {
            if (view.IsFurniture(i)) return true;
            if (!view.Shape(i).Has(LineTraits.Blank)) return false;
        }

        return false;
    }
}
