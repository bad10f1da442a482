using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Assembly.Directives;

/// <summary><c>global</c>, <c>extern</c>: names shared between files.</summary>
internal sealed class LinkNamesDirective : Directive
{
    public override IReadOnlyList<string> Words { get; } = ["global", "extern"];

    public override string Usage => "global name,name";

    public override string Summary =>
        "Says that names are known to other files (global) or come from them (extern). A program in one file needs neither.";

    public override void Execute(AssemblyPass pass, in EffectiveLine line)
    {
        bool external = line.Syntax.Keyword == Keyword.Extern;
        foreach ((string name, TextSpan span, OperandSyntax _) in Operands.Names(pass, line))
        {
            if (external)
                pass.DeclareExternal(name);
            else
                pass.Export(name, line.Place(span), line.Via);
        }
    }
}
