using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Assembly.Directives;

/// <summary><c>#undefine</c>: ends a define.</summary>
internal sealed class UndefineDirective : Directive
{
    public override IReadOnlyList<string> Words { get; } = ["#undefine", "undefine"];

    public override string Usage => "#undefine name";

    public override string Summary => "From here on the name is no longer replaced by a text.";

    public override bool KeepsOperands => true;

    public override void Execute(AssemblyPass pass, in EffectiveLine line)
    {
        foreach ((string name, TextSpan span, OperandSyntax _) in Operands.Names(pass, line))
        {
            if (pass.Symbols.TryGet(name, out Symbol? symbol))
                pass.NoteReference(symbol, line.Place(span), line.Via);
            pass.Substitution.Undefine(name);
        }
    }
}
