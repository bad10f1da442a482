using AsmLsp.Core.Assembly;
using AsmLsp.Core.Refactorings.Parts;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Refactorings;

/// <summary>Writes the configuration word as one number, with a comment above it that says what each field means.</summary>
internal sealed class ConfigurationAsNumber : RefactoringProvider
{
    public override string Name => "configuration-as-number";

    public override RefactoringKind Kind => RefactoringKind.Rewrite;

    internal override void Offer(RefactoringRequest request)
    {
        if (ConfigurationLine.At(request) is not { } line || line.Operand.Value is LiteralExpression)
            return;
        string number = Show.Hex(line.Value);
        request.Add(
            "number",
            $"Write the configuration as the number {number}, with its meaning above",
            WordEffect.Same,
            () =>
            {
                var plan = new RefactoringPlan();
                plan.InsertBefore(request.File, request.FirstLine, line.Meanings().Select(m => "; " + m));
                plan.Replace(request.File, request.FirstLine, line.Operand.Span, number);
                return plan;
            }
        );
    }
}
