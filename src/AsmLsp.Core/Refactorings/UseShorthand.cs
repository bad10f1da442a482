using AsmLsp.Core.Assembly;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Refactorings.Parts;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Refactorings;

/// <summary>Writes the shorthand for an instruction about a flag: <c>btfss STATUS,Z</c> becomes <c>skpz</c>.</summary>
internal sealed class UseShorthand : RefactoringProvider
{
    public override string Name => "use-shorthand";

    public override RefactoringKind Kind => RefactoringKind.Rewrite;

    internal override void Offer(RefactoringRequest request)
    {
        int at = request.FirstLine;
        LineSyntax line = request.Syntax(at);
        LineFacts facts = request.Facts(at);
        if (
            !request.IsOneLine
            || SourceStyle.OperandsOf(line) != OperandKind.RegisterBit
            || facts.Words != 1
            || !request.IsPlain(at)
            || (facts.Role & LineRole.MacroCall) != 0
        )
            return;
        if (!request.Program.Image.TryGet(facts.Address, out ushort word, out _))
            return;
        foreach (Shorthand shorthand in Shorthand.All)
        {
            if (
                shorthand.Operands != OperandKind.None
                || shorthand.Steps.Length != 1
                || shorthand.Expand(0, 0).First() != word
                || IsTaken(request.Program, shorthand.Name)
            )
                continue;
            request.Add(
                "shorthand",
                $"Write the shorthand {shorthand.Name} for {line.Operation} {line.OperandText}",
                WordEffect.Same,
                () =>
                {
                    var plan = new RefactoringPlan();
                    plan.Replace(
                        request.File,
                        at,
                        line.Tokens[line.OperationToken].Start,
                        line.CodeSpan.End,
                        SourceStyle.InCaseOf(line.Operation!, shorthand.Name)
                    );
                    return plan;
                }
            );
            return;
        }
    }

    private static bool IsTaken(ProgramAnalysis program, string name)
    {
        foreach (Symbol symbol in program.Symbols)
            if (symbol.Name.Equals(name, StringComparison.OrdinalIgnoreCase))
                return true;
        return false;
    }
}
