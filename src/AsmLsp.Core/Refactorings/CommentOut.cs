using AsmLsp.Core.Assembly;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Refactorings;

/// <summary>Puts a semicolon before each selected line; <see cref="CommentIn"/> takes the very same ones away again.</summary>
internal sealed class CommentOut : RefactoringProvider
{
    public override string Name => "comment-out";

    public override RefactoringKind Kind => RefactoringKind.Rewrite;

    public override bool IsTextOnly => true;

    internal override void Offer(RefactoringRequest request)
    {
        int lines = 0;
        bool hasProgram = false,
            hasWords = false;
        for (int i = request.FirstLine; i <= request.LastLine; i++)
        {
            string text = request.Text[i].Text;
            if (string.IsNullOrWhiteSpace(text))
                continue;
            // ';' before '?' would make a doubt of what is none.
            if (text[0] == DoubtMark.Sign[1])
                return;
            lines++;
            hasProgram |= !LineSyntax.Of(request.Text[i]).IsBlank;
            hasWords |= request.Facts(i).Words > 0;
        }

        if (!hasProgram)
            return;
        request.Add(
            "lines",
            lines == 1 ? "Comment out this line" : $"Comment out {lines} lines",
            hasWords ? WordEffect.Changes : WordEffect.MayChange,
            () =>
            {
                var plan = new RefactoringPlan { TouchesAnything = true };
                for (int i = request.FirstLine; i <= request.LastLine; i++)
                    if (!string.IsNullOrWhiteSpace(request.Text[i].Text))
                        plan.Replace(request.File, i, 0, 0, ";");
                return plan;
            }
        );
    }
}
