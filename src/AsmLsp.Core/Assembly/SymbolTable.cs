using System.Diagnostics.CodeAnalysis;

namespace AsmLsp.Core.Assembly;

/// <summary>
/// The names of a program, kept from pass to pass: a name not yet met in this pass has the value of the pass
/// before, which is how a word can refer to what stands further down.
/// </summary>
internal sealed class SymbolTable
{
    private readonly Dictionary<string, Symbol> symbols = new(StringComparer.Ordinal);
    private Dictionary<string, List<Symbol>>? byAnyCase;
    private int byAnyCaseCount = -1;

    /// <summary>Number of the pass that runs, from 1.</summary>
    public int Pass { get; private set; }

    /// <summary>Whether this pass gave a name another value than the pass before, so that one more is needed.</summary>
    public bool Changed { get; private set; }

    /// <summary>A name whose value changed, for the message when addresses never come to rest.</summary>
    public string? LastChanged { get; private set; }

    public IReadOnlyCollection<Symbol> All => symbols.Values;

    public void BeginPass()
    {
        Pass++;
        Changed = false;
    }

    /// <summary>Forgets the names that this pass did not define.</summary>
    public void EndPass()
    {
        foreach (Symbol symbol in symbols.Values)
        {
            if (symbol.Pass == Pass) continue;
            symbols.Remove(symbol.Name);
            MarkChanged(symbol.Name);
        }
    }

    public bool TryGet(string name, [NotNullWhen(true)] out Symbol? symbol) => symbols.TryGetValue(name, out symbol);

    /// <summary>Whether the name has been defined above the line that is assembled now.</summary>
    public bool IsDefinedSoFar(string name) => symbols.TryGetValue(name, out Symbol? symbol) && symbol.Pass == Pass;

    /// <summary>The one name that differs by case only, or null where there is none or more than one.</summary>
    public Symbol? FindByAnyCase(string name)
    {
        if (byAnyCase is null || byAnyCaseCount != symbols.Count)
        {
            byAnyCase = new Dictionary<string, List<Symbol>>(StringComparer.OrdinalIgnoreCase);
            foreach (Symbol symbol in symbols.Values)
            {
                if (!byAnyCase.TryGetValue(symbol.Name, out List<Symbol>? same)) byAnyCase.Add(symbol.Name, same = new(1));
                same.Add(symbol);
            }

            byAnyCaseCount = symbols.Count;
        }

        return byAnyCase.TryGetValue(name, out List<Symbol>? found) && found.Count == 1 ? found[0] : null;
    }

    /// <summary>The name's symbol, made now where it is new; the caller fills it.</summary>
    public Symbol GetOrAdd(string name, SymbolKind kind)
    {
        if (!symbols.TryGetValue(name, out Symbol? symbol))
        {
            symbol = new Symbol(name, kind);
            symbols.Add(name, symbol);
        }

        return symbol;
    }

    /// <summary>Gives a name its value in this pass.</summary>
    public void Assign(Symbol symbol, int value, bool known)
    {
        bool first = symbol.Pass != Pass;
        if (first)
        {
            if (symbol.Pass == 0 || symbol.FirstValueOfPass != value || symbol.IsKnown != known) MarkChanged(symbol.Name, symbol.Pass != 0);
            symbol.FirstValueOfPass = value;
            symbol.Pass = Pass;
        }

        symbol.Value = value;
        symbol.IsKnown = known;
    }

    private void MarkChanged(string name, bool again = true)
    {
        // In the first pass every name is new: only a reference before the definition makes that matter.
        Changed = true;
        if (again) LastChanged = name;
    }
}
