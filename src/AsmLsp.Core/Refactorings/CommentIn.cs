using AsmLsp.Core.Assembly;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Refactorings;

/// <summary>Takes the semicolon before each selected line away, where the lines read as program without it.</summary>
internal sealed class CommentIn : RefactoringProvider
{
    public override string Name => "comment-in";

    public override RefactoringKind Kind => RefactoringKind.Rewrite;

    public override bool IsTextOnly => true;

    internal override void Offer(RefactoringRequest request)
    {
        int lines = 0;
        bool isProgram = false,
            hasWords = false;
        for (int i = request.FirstLine; i <= request.LastLine; i++)
        {
            string text = request.Text[i].Text;
            if (string.IsNullOrWhiteSpace(text))
                continue;
            if (text[0] != ';' || text.StartsWith(DoubtMark.Sign, StringComparison.Ordinal))
                return;
            lines++;
            LineSyntax syntax = LineSyntax.Parse(text[1..]);
            bool reads = Reads(request.Program, syntax);
            isProgram |= reads;
            hasWords |=
                reads
                && syntax.OperationKind == OperationKind.Instruction
                && (request.Facts(i).Role & (LineRole.Skipped | LineRole.Body | LineRole.AfterEnd)) == 0;
        }

        if (!isProgram)
            return;
        request.Add(
            "lines",
            lines == 1
                ? "Make this comment a line of the program again"
                : $"Make {lines} comment lines lines of the program again",
            hasWords ? WordEffect.Changes : WordEffect.MayChange,
            () =>
            {
                var plan = new RefactoringPlan { TouchesAnything = true };
                for (int i = request.FirstLine; i <= request.LastLine; i++)
                    if (request.Text[i].Text is [';', ..])
                        plan.Replace(request.File, i, 0, 1, "");
                return plan;
            }
        );
    }

    // Prose may start with 'call' or 'list' too, but it continues with words that no operand is made of.
    private static bool Reads(ProgramAnalysis program, LineSyntax syntax)
    {
        if (syntax.Operation is not { } operation)
            return false;
        if (syntax.OperationKind == OperationKind.Unknown && program.FindSymbol(operation)?.Kind != SymbolKind.Macro)
            return false;
        if (syntax.OperationKind == OperationKind.Assignment && syntax.Label is null)
            return false;
        foreach (OperandSyntax operand in syntax.Operands)
        {
            if (operand.Span.Length == 0 || operand.Value is FaultyExpression)
                return false;
            if (operand.Leftover.Length > 0 && syntax.OperationKind == OperationKind.Instruction)
                return false;
            if (operand.Leftover.Length > 0 && operand.Value is NameExpression && syntax.Keyword != Keyword.Define)
                return false;
        }

        return Parts.SourceStyle.OperandsOf(syntax) is not { } kind
            || (kind == Instructions.OperandKind.None) == (syntax.Operands.Length == 0);
    }
}
