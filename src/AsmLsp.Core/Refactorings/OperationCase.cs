using AsmLsp.Core.Assembly;
using AsmLsp.Core.Refactorings.Parts;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Refactorings;

/// <summary>Writes all instructions of a file in capital letters, or all in small ones, as most of them are.</summary>
internal sealed class OperationCase : RefactoringProvider
{
    public override string Name => "operation-case";

    public override RefactoringKind Kind => RefactoringKind.Rewrite;

    // All lines are counted.
    public override bool IsCheap => false;

    internal override void Offer(RefactoringRequest request)
    {
        LineSyntax at = request.Syntax(request.FirstLine);
        if (
            !request.IsOneLine
            || at.OperationKind != OperationKind.Instruction
            || !request.IsAt(at.Tokens[at.OperationToken].Span)
        )
            return;
        SourceStyle style = SourceStyle.Of(request.Text);
        // At one that differs: elsewhere nobody looks for this.
        if (
            style.Operation(at.Operation!) == at.Operation
            || !QuietLines.Of(request.Program).IsQuiet(request.File, request.FirstLine)
        )
            return;
        int others = style.MixedCount + Math.Min(style.UpperCount, style.LowerCount);
        if (others == 0)
            return;
        string letters = style.UpperOperations ? "capital" : "small";
        request.Add(
            "file",
            $"Write all instructions of {request.File.ShortName} in {letters} letters ({others} {(others == 1 ? "is" : "are")} not)",
            WordEffect.Same,
            () => Plan(request, style)
        );
    }

    private static RefactoringPlan Plan(RefactoringRequest request, SourceStyle style)
    {
        HashSet<string> own = OwnWords(request.Program);
        var plan = new RefactoringPlan();
        int number = 0;
        foreach (TextLine line in request.Text.Lines)
        {
            LineSyntax syntax = LineSyntax.Of(line);
            if (
                syntax.OperationKind == OperationKind.Instruction
                && (request.Facts(number).Role & LineRole.BlockMember) == 0
            )
            {
                string word = syntax.Operation!,
                    wanted = style.Operation(word);
                if (
                    word != wanted
                    && !own.Contains(word)
                    && QuietLines.Of(request.Program).IsQuiet(request.File, number)
                )
                    plan.Replace(request.File, number, syntax.Tokens[syntax.OperationToken].Span, wanted);
            }

            number++;
        }

        return plan;
    }

    // Words that the program uses as macros, defines or parameters, whatever their letters: those are no instructions everywhere.
    private static HashSet<string> OwnWords(ProgramAnalysis program)
    {
        var words = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        foreach (Symbol symbol in program.Symbols)
        {
            words.Add(symbol.Name);
            words.UnionWith(symbol.Parameters);
        }

        // Definitions that no symbol reports: local names, and macros in parts that are left out.
        foreach (SourceFile file in program.Files)
        {
            foreach (TextLine line in file.Text.Lines)
            {
                LineSyntax syntax = LineSyntax.Of(line);
                if (syntax.Keyword is not (Keyword.Macro or Keyword.Local or Keyword.Define))
                    continue;
                for (int i = 0; i < syntax.EndOfCode; i++)
                    if (syntax.Tokens[i].Kind == TokenKind.Name)
                        words.Add(syntax.TextOf(i));
            }
        }

        return words;
    }
}
