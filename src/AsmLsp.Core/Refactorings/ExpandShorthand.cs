using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Layout;
using AsmLsp.Core.Refactorings.Parts;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Refactorings;

/// <summary>Writes the instructions that a shorthand means: <c>skpz</c> becomes <c>btfss STATUS,Z</c>.</summary>
internal sealed class ExpandShorthand : RefactoringProvider
{
    public override string Name => "expand-shorthand";

    public override RefactoringKind Kind => RefactoringKind.Rewrite;

    internal override void Offer(RefactoringRequest request)
    {
        LineSyntax line = request.Syntax(request.FirstLine);
        if (
            !request.IsOneLine
            || line.OperationKind != OperationKind.Instruction
            || !request.IsPlain(request.FirstLine)
            || (request.Facts(request.FirstLine).Role & LineRole.MacroCall) != 0
        )
            return;
        // 'lcall' and 'lgoto' take as many instructions as the chip has pages.
        if (
            Shorthand.Find(line.Operation) is not { DependsOnPages: false } shorthand
            || line.Operands.Any(o => o.Span.Length == 0)
        )
            return;
        string[] instructions = [.. shorthand.Steps.Select(s => Text(request, line, s))];
        request.Add(
            "instructions",
            $"Write {line.Operation} as {string.Join(" and ", instructions)}",
            WordEffect.Same,
            () => Plan(request, line, shorthand.Steps)
        );
    }

    private static RefactoringPlan Plan(
        RefactoringRequest request,
        LineSyntax line,
        ImmutableArray<Shorthand.Step> steps
    )
    {
        ColumnStyle style = ColumnStyle.Of(request.Text);
        int start = line.Tokens[line.OperationToken].Start;
        var plan = new RefactoringPlan();
        plan.Replace(
            request.File,
            request.FirstLine,
            start,
            Math.Max(line.CodeSpan.End, line.Tokens[line.OperationToken].End),
            Text(request, line, steps[0])
        );
        string rest = string.Concat(
            steps.Skip(1).Select(s => request.Text.UsualEnding + style.Indent + Text(request, line, s))
        );
        if (rest.Length > 0)
            plan.Replace(request.File, request.FirstLine, line.Text.Length, line.Text.Length, rest);
        return plan;
    }

    private static string Text(RefactoringRequest request, LineSyntax line, Shorthand.Step step)
    {
        ChipWords words = ChipWords.Of(request.Program);
        string operands = step switch
        {
            // The flags are bits 0 to 2 of STATUS on every chip (data sheet DS35007B, register 2-1).
            { First: 3, Second: { } bit } => words.RegisterBit(
                "STATUS",
                3,
                bit switch
                {
                    0 => "C",
                    1 => "DC",
                    _ => "Z",
                },
                bit
            ),
            { Second: { } destination } => line.Operands[0].Text
                + ","
                + (words.Destination(request.Text, destination) ?? Show.Decimal(destination)),
            _ => line.OperandText,
        };
        string gap =
            line.Operands.Length > 0 ? line.Text[line.Tokens[line.OperationToken].End..line.OperandSpan.Start] : " ";
        return SourceStyle.InCaseOf(line.Operation!, step.Instruction.Name)
            + (operands.Length > 0 ? (gap.Length > 0 ? gap : " ") + operands : "");
    }
}
