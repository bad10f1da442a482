using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Assembly.Directives;

/// <summary><c>macro</c>: lines under a name, put in wherever the name is called.</summary>
internal sealed class MacroDirective : Directive
{
    public override IReadOnlyList<string> Words { get; } = ["macro"];

    public override string Usage => "name macro a,b ... endm";

    public override string Summary =>
        "Keeps the lines up to 'endm' under the name; a line with the name as its operation puts them in.";

    public override bool UsesLabel => true;

    public override bool KeepsOperands => true;

    public override void Execute(AssemblyPass pass, in EffectiveLine line)
    {
        List<EffectiveLine>? body = pass.CollectBody(line, Keyword.Macro, Keyword.EndMacro);
        if (line.Syntax.Label is not { } name)
        {
            pass.Report(Catalogue.NameMissing, line.OperationPlace, line.Via, line.Syntax.Operation!);
            return;
        }

        SourcePlace place = line.Place(line.Syntax.LabelToken);
        var parameters = new List<string>();
        foreach ((string parameter, TextSpan _, OperandSyntax _) in Operands.Names(pass, line))
            parameters.Add(parameter);
        if (pass.Symbols.IsDefinedSoFar(name) && pass.Symbols.TryGet(name, out Symbol? earlier))
        {
            if (earlier.Kind != SymbolKind.Macro)
            {
                pass.ReportTwice(earlier, place, line.Via);
                return;
            }

            if (line.Via is null)
                pass.Report(Catalogue.MacroDefinedTwice, place, line.Via, name);
        }

        OperationKind kind = OperationWords.KindOf(name);
        if (kind is OperationKind.Instruction or OperationKind.Directive)
        {
            pass.HasOperationMacros = true;
            pass.Report(
                Catalogue.MacroReplacesOperation,
                place,
                line.Via,
                name,
                kind == OperationKind.Instruction ? "an instruction" : "a directive"
            );
        }

        Symbol symbol = pass.Symbols.GetOrAdd(name, SymbolKind.Macro);
        symbol.Kind = SymbolKind.Macro;
        symbol.Definition = place;
        symbol.Via = line.Via;
        symbol.Parameters = parameters;
        symbol.Body = new MacroBody(body ?? [], place);
        pass.Symbols.Assign(symbol, 0, false);
        pass.NoteDefinition(symbol, place, line.Via);
    }
}
