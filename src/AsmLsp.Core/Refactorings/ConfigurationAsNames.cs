using AsmLsp.Core.Refactorings.Parts;

namespace AsmLsp.Core.Refactorings;

/// <summary>Writes the configuration word by the names of its settings; bits that have no name stay as a number.</summary>
internal sealed class ConfigurationAsNames : RefactoringProvider
{
    public override string Name => "configuration-as-names";

    public override RefactoringKind Kind => RefactoringKind.Rewrite;

    internal override void Offer(RefactoringRequest request)
    {
        if (
            ConfigurationLine.At(request) is not { } line
            || line.ByNames(new ProgramNames(request.Program)) is not { } text
            || text == line.Operand.Text
        )
            return;
        request.Add(
            "names",
            $"Write the configuration by names: {text}",
            WordEffect.Same,
            () =>
            {
                var plan = new RefactoringPlan();
                plan.Replace(request.File, request.FirstLine, line.Operand.Span, text);
                return plan;
            }
        );
    }
}
