using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Repairs;

/// <summary>
/// The rest of a comment on a line of its own, without its mark. It is certain where the line reads as words and
/// makes nothing; where it makes a word ('return to start'), or could be the call of a macro, a person decides.
/// </summary>
internal sealed class WrappedComment : PrintCheck
{
    private sealed record MarkOnly : ProblemFacts
    {
        public static MarkOnly Instance { get; } = new();
    }

    public override ImmutableArray<ProblemKind> Answers { get; } =
    [Catalogue.CommentWithoutMark, Catalogue.CommentOrInstruction];

    public override void Find(CheckedFile view)
    {
        var rests = new HashSet<int>();
        Look(view, rests, 0, false, members: false);
        // Where comments were wrapped at all, any comment that fills its line may continue in the next, and what is in a block may be one's rest.
        bool wraps =
            rests.Count > 0
            || view.Lines.Exists(l => l.Shape.Has(LineTraits.Doubt) && l.Shape.Has(LineTraits.CommentOnly));
        if (wraps)
            Look(view, rests, LongestLine(view.File.Text), true, members: false);
        Look(view, rests, wraps ? LongestLine(view.File.Text) : 0, wraps, members: true);
    }

    internal override void Offer(FixRequest request)
    {
        TextSpan span = request.Problem.Place.Columns;
        TextEdit comment = request.Edit(span.Start, span.Start, "; ");
        if (request.Problem.Kind == Catalogue.CommentWithoutMark)
        {
            request.Add(
                Certainty.Certain,
                "Make it a comment",
                Doubt.Remark("taken as the rest of the comment above"),
                comment
            );
            return;
        }

        if (request.Problem.Facts is MarkOnly)
        {
            request.Guess(
                "Keep it as an instruction, with a doubt",
                Doubt.Extent("or the rest of the comment above?"),
                request.Edit(
                    request.LineText.Length,
                    request.LineText.Length,
                    " " + DoubtMark.Sign + " or the rest of the comment above?"
                )
            );
            request.Guess("Make it a comment", null, comment);
            return;
        }

        request.Guess("Make it a comment", Doubt.Remark("taken as the rest of the comment above"), comment);
    }

    private static void Look(CheckedFile view, HashSet<int> rests, int width, bool wraps, bool members)
    {
        foreach (int line in Candidates(view, rests, width))
        {
            LineShape shape = view.Shape(line);
            if (shape.Has(LineTraits.Blank | LineTraits.CommentOnly | LineTraits.HasComment) || view.IsExplained(line))
                continue;
            LineRole role = view.Role(line);
            if (members != ((role & LineRole.BlockMember) != 0))
                continue;
            if ((role & (LineRole.AfterEnd | LineRole.MacroCall)) != 0 || view.Syntax(line).ColonToken >= 0)
                continue;
            // A name that means an instruction is one, as a macro's is.
            if (
                shape.Has(LineTraits.LoneName)
                && view.Program.FindSymbol(view.CodeOf(line)) is { Kind: SymbolKind.Define }
            )
                continue;
            // The program's last 'end' ends nothing that follows.
            if (shape.Has(LineTraits.End) && EndInsideProgram.FirstCodeAfter(view, line, 1) < 0)
                continue;
            int above = CommentAbove(view, line, rests);
            if (above < 0)
                continue;
            var place = new RestPlace(
                view,
                line,
                above,
                rests.Contains(above)
                    || view.Shape(above).Has(LineTraits.Doubt) && view.Shape(above).Has(LineTraits.CommentOnly),
                width,
                wraps
            );
            RestVerdict verdict = place.Judge();
            // 'go to idle' after a comment: what may be an instruction in spite of its words is nothing that is resolved here.
            if (
                verdict is RestVerdict.Comment or RestVerdict.LikelyComment
                && !shape.Has(LineTraits.CodeLike)
                && view.MayHideCode(line)
            )
                verdict = place.GoesOn ? RestVerdict.LikelyComment : RestVerdict.Nothing;
            switch (verdict)
            {
                case RestVerdict.Comment:
                    rests.Add(line);
                    view.Report(
                        Catalogue.CommentWithoutMark,
                        line,
                        view.Visible(line),
                        line,
                        Explains.WholeLine,
                        view.Quote(line)
                    );
                    break;
                case RestVerdict.LikelyComment:
                    rests.Add(line);
                    view.Report(
                        Catalogue.CommentOrInstruction,
                        line,
                        view.Visible(line),
                        line,
                        Explains.WholeLine,
                        view.Quote(line)
                    );
                    break;
                case RestVerdict.LikelyInstruction:
                    view.Report(
                        Catalogue.CommentOrInstruction,
                        line,
                        view.Visible(line),
                        line,
                        Explains.WholeLine,
                        MarkOnly.Instance,
                        view.Quote(line)
                    );
                    break;
            }
        }
    }

    private static int LongestLine(SourceText text)
    {
        int longest = 0;
        foreach (TextLine line in text.Lines)
            if (!LineShape.Of(line).Has(LineTraits.Doubt))
                longest = Math.Max(longest, line.Text.Length);
        return longest;
    }

    // The suspicious lines, and code in words of a sentence under a comment that may continue.
    private static IEnumerable<int> Candidates(CheckedFile view, HashSet<int> rests, int width)
    {
        int next = 0,
            number = 0;
        bool afterComment = false;
        foreach (TextLine line in view.File.Text.Lines)
        {
            bool suspicious = next < view.Lines.Count && view.Lines[next].Line == number;
            if (suspicious)
                next++;
            LineShape shape = LineShape.Of(line);
            if (
                afterComment && (suspicious || shape.Has(LineTraits.Wordy) || (width > 0 && rests.Contains(number - 1)))
            )
                yield return number;
            afterComment =
                rests.Contains(number)
                || shape.Has(LineTraits.HasComment)
                || (afterComment && (shape.Has(LineTraits.Blank) || view.IsPageLine(number)));
            number++;
        }
    }

    // The line whose comment this one may continue with; -1 where there is none. A page break may lie between.
    private static int CommentAbove(CheckedFile view, int line, HashSet<int> rests)
    {
        bool page = false;
        for (int i = line - 1; i >= 0 && line - i < 16; i--)
        {
            if (view.IsPageLine(i))
            {
                page = true;
                continue;
            }

            if (rests.Contains(i) || view.Shape(i).Has(LineTraits.HasComment))
                return i;
            if (!view.Shape(i).Has(LineTraits.Blank))
                return -1;
            // A blank line ends a comment, except where the page ends.
            if (!page && !PageEndsAbove(view, i))
                return -1;
        }

        return -1;
    }

    private static bool PageEndsAbove(CheckedFile view, int line)
    {
        for (int i = line; i >= 0 && line - i < 6; i--)
        {
            if (view.IsPageLine(i))
                return true;
            // A heading of the page that was taken for a rest, with a doubt.
            bool isDoubtful = view.Shape(i).Has(LineTraits.CommentOnly) && view.Shape(i).Has(LineTraits.Doubt);
            if (!view.Shape(i).Has(LineTraits.Blank) && !isDoubtful)
                return false;
        }

        return false;
    }
}
