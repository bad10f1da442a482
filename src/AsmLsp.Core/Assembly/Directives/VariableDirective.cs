using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Assembly.Directives;

/// <summary><c>variable</c>: names whose values may change further down.</summary>
internal sealed class VariableDirective : Directive
{
    public override IReadOnlyList<string> Words { get; } = ["variable"];

    public override string Usage => "variable name=value, name";

    public override string Summary =>
        "Makes names for working with while assembling; a later line may give them other values.";

    public override void Execute(AssemblyPass pass, in EffectiveLine line)
    {
        foreach ((string name, TextSpan span, OperandSyntax operand) in Operands.Names(pass, line))
            pass.Assign(name, ConstantDirective.ValueAfter(pass, line, operand), line.Place(span), line.Via);
    }
}
