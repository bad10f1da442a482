using AsmLsp.Ide.Structure;
using AsmLsp.LanguageServer.Protocol;

namespace AsmLsp.LanguageServer.Features.Common;

/// <summary>The outline's kinds as clients show them.</summary>
internal static class OutlineSymbols
{
    /// <summary>How clients show an entry.</summary>
    public static SymbolKind KindOf(OutlineKind kind) =>
        kind switch
        {
            OutlineKind.Section => SymbolKind.Namespace,
            OutlineKind.Routine => SymbolKind.Function,
            OutlineKind.Label => SymbolKind.Key,
            OutlineKind.VariableBlock => SymbolKind.Struct,
            OutlineKind.Member => SymbolKind.Field,
            OutlineKind.Macro => SymbolKind.Method,
            OutlineKind.Variable => SymbolKind.Variable,
            _ => SymbolKind.Constant,
        };
}
