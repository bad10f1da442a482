using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Flow.Checks;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Flow.Traps;

/// <summary>
/// Two variables with one address, one of them at least from a block, both used: writing the one changes the other. Names that are defined
/// by each other share their address on purpose.
/// </summary>
internal sealed class SameAddressCheck : TrapCheck
{
    public override void Run(TrapContext context, FlowReport report)
    {
        if (context.Device is not { } device)
            return;
        var byAddress = new Dictionary<int, Symbol>();
        Dictionary<string, int>? used = null;
        foreach (Symbol symbol in InOrder(context.Graph.Program))
        {
            if (
                symbol is not { IsKnown: true, IsReferenced: true, Via: null, Value: >= 0 and <= 0x1FF }
                || !device.DataMemory.IsGeneralPurpose(symbol.Value)
                || !IsPlain(context.Graph.Program, symbol)
            )
                continue;
            int address = device.DataMemory.Canonical(symbol.Value);
            if (!byAddress.TryGetValue(address, out Symbol? first))
            {
                byAddress.Add(address, symbol);
                continue;
            }

            if (first.Kind == SymbolKind.Constant && symbol.Kind == SymbolKind.Constant)
                continue;
            used ??= NamesUsed(context);
            if (first.Value != symbol.Value || !used.ContainsKey(first.Name) || !used.ContainsKey(symbol.Name))
                continue;
            report.Add(
                Catalogue.SameAddress,
                symbol.Definition,
                null,
                symbol.Name,
                first.Name,
                Show.Hex(symbol.Value, 2),
                Show.Decimal(first.Definition.Line + 1)
            );
            return;
        }
    }

    private static IEnumerable<Symbol> InOrder(ProgramAnalysis program) =>
        program
            .Symbols.Where(static s => s.Kind is SymbolKind.BlockMember or SymbolKind.Constant)
            .OrderBy(s => s.Definition.File == program.Root ? 0 : 1)
            .ThenBy(static s => s.Definition.Line)
            .ThenBy(static s => s.Definition.Columns.Start);

    // A number comes after the name, not another name.
    private static bool IsPlain(ProgramAnalysis program, Symbol symbol)
    {
        if (symbol.Kind == SymbolKind.BlockMember)
            return true;
        LineSyntax syntax = program.SyntaxOf(symbol.Definition.File, symbol.Definition.Line);
        return syntax.Operands is [{ Value: LiteralExpression }];
    }

    private static Dictionary<string, int> NamesUsed(TrapContext context)
    {
        var used = new Dictionary<string, int>(StringComparer.Ordinal);
        for (int at = 0; at < context.End; at++)
            if (
                context.At(at) is { } decoded
                && NamedRegister.Takes(decoded)
                && context.Graph.Walk.OperandOf(at) is NameExpression name
            )
                used.TryAdd(name.Name, at);
        return used;
    }
}
