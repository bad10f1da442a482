using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Assembly.Directives;

/// <summary><c>messg</c>: the author's message.</summary>
internal sealed class MessageDirective : Directive
{
    public override IReadOnlyList<string> Words { get; } = ["messg"];

    public override string Usage => "messg \"text\"";

    public override string Summary => "Shows the author's text; it has no effect on the program.";

    public override bool KeepsOperands => true;

    public override void Execute(AssemblyPass pass, in EffectiveLine line) =>
        pass.Report(
            Catalogue.AuthorMessage,
            line.Place(line.Syntax.CodeSpan),
            line.Via,
            Operands.Unquoted(line.Syntax.OperandText)
        );
}
