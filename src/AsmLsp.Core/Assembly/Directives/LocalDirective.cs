using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Assembly.Directives;

/// <summary><c>local</c>: names that are new in each call of a macro.</summary>
internal sealed class LocalDirective : Directive
{
    public override IReadOnlyList<string> Words { get; } = ["local"];

    public override string Usage => "local name, name=value";

    public override string Summary =>
        "Makes the names new in each call of the macro, so that two calls do not define the same label twice.";

    public override void Execute(AssemblyPass pass, in EffectiveLine line)
    {
        foreach ((string name, TextSpan span, OperandSyntax operand) in Operands.Names(pass, line))
        {
            bool hasValue = operand.Text.Contains('=', StringComparison.Ordinal);
            Value value = ConstantDirective.ValueAfter(pass, line, operand);
            string fresh = name;
            if (pass.Cursor.Parameters is { } parameters)
            {
                // The middle dot cannot be typed in a listing's name by chance, so the fresh name meets no other.
                fresh = $"{name}·{pass.NextExpansion()}";
                parameters[name] = new MacroArgument(fresh, null);
            }

            if (hasValue)
                pass.Assign(fresh, value, line.Place(span), line.Via);
        }
    }
}
