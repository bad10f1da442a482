using AsmLsp.Core.Assembly;
using AsmLsp.Core.Flow.Checks;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Flow.Traps;

/// <summary>
/// Names that nothing uses: labels, values and variables of the program's own files. Included files hold names for other programs too, and
/// labels at the reset and the interrupt are used by the chip.
/// </summary>
internal sealed class UnusedNameCheck : TrapCheck
{
    public override void Run(TrapContext context, FlowReport report)
    {
        ProgramAnalysis program = context.Graph.Program;
        int reset = context.Device?.ResetVector ?? 0,
            vector = context.Device?.InterruptVector ?? 4;
        foreach (Symbol symbol in program.Symbols)
        {
            if (
                symbol is not { IsReferenced: false, Via: null }
                || symbol.Kind is not (SymbolKind.Label or SymbolKind.Constant or SymbolKind.BlockMember)
                || (symbol.Kind == SymbolKind.Label && (symbol.Value == reset || symbol.Value == vector))
                || symbol.Name.Contains('\u00B7', StringComparison.Ordinal)
                || !program.Roots.Contains(symbol.Definition.File)
            )
                continue;
            report.Add(Catalogue.UnusedName, symbol.Definition, null, symbol.Name);
        }
    }
}
