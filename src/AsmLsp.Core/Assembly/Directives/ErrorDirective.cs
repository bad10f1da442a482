using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Assembly.Directives;

/// <summary><c>error</c>: the author stops the build.</summary>
internal sealed class ErrorDirective : Directive
{
    public override IReadOnlyList<string> Words { get; } = ["error"];

    public override string Usage => "error \"text\"";

    public override string Summary => "Stops the build with the author's text.";

    public override bool KeepsOperands => true;

    public override void Execute(AssemblyPass pass, in EffectiveLine line) =>
        pass.Report(
            Catalogue.AuthorError,
            line.Place(line.Syntax.CodeSpan),
            line.Via,
            Operands.Unquoted(line.Syntax.OperandText),
            Hints.ForStoppedChoice(pass)
        );
}
