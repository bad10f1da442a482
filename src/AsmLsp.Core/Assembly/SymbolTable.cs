using System.Diagnostics.CodeAnalysis;

namespace AsmLsp.Core.Assembly;

/// <summary>
/// The names of a program, kept from pass to pass: a name not yet met in this pass has the value of the pass
/// before, which is how a word can refer to what is further down.
/// </summary>
internal sealed class SymbolTable(int unit)
{
    private readonly Dictionary<string, Symbol> symbols = new(StringComparer.Ordinal);
    private readonly Dictionary<string, List<Symbol>> byAnyCase = new(StringComparer.OrdinalIgnoreCase);

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

    /// <summary>Forgets the names that this pass did not define, and sees whether the last values of the others no longer change.</summary>
    public void EndPass()
    {
        foreach (Symbol symbol in symbols.Values)
        {
            if (symbol.Pass == Pass)
            {
                // A line above the first assignment of a variable has read the last value of the pass before.
                if (symbol.LastValueOfPass != symbol.Value || symbol.LastKnownOfPass != symbol.IsKnown)
                    MarkChanged(symbol.Name);
                (symbol.LastValueOfPass, symbol.LastKnownOfPass) = (symbol.Value, symbol.IsKnown);
                continue;
            }

            symbols.Remove(symbol.Name);
            byAnyCase[symbol.Name].Remove(symbol);
            MarkChanged(symbol.Name);
        }
    }

    public bool TryGet(string name, [NotNullWhen(true)] out Symbol? symbol) => symbols.TryGetValue(name, out symbol);

    /// <summary>Whether the name has been defined above the line that is assembled now.</summary>
    public bool IsDefinedSoFar(string name) => symbols.TryGetValue(name, out Symbol? symbol) && symbol.Pass == Pass;

    /// <summary>Whether a name means a value, label or macro above this line; a define is known by its substitution.</summary>
    public bool IsValueSoFar(string name) =>
        symbols.TryGetValue(name, out Symbol? symbol) && symbol.Pass == Pass && symbol.Kind != SymbolKind.Define;

    /// <summary>The one name that differs by case only, or null where there is none or more than one.</summary>
    public Symbol? FindByAnyCase(string name) =>
        byAnyCase.TryGetValue(name, out List<Symbol>? found) && found.Count == 1 ? found[0] : null;

    /// <summary>Says that a name was wanted and not found, so that the first pass is not the last.</summary>
    public void NoteMissed()
    {
        if (Pass == 1)
            Changed = true;
    }

    /// <summary>The macro defined above whose name is an operation's, without regard to case; or null.</summary>
    public Symbol? FindOperationMacro(string name)
    {
        if (!byAnyCase.TryGetValue(name, out List<Symbol>? found))
            return null;
        foreach (Symbol symbol in found)
            if (symbol.Kind == SymbolKind.Macro && symbol.Pass == Pass)
                return symbol;
        return null;
    }

    /// <summary>The name's symbol, made now where it is new; the caller fills it.</summary>
    public Symbol GetOrAdd(string name, SymbolKind kind)
    {
        if (!symbols.TryGetValue(name, out Symbol? symbol))
        {
            symbol = new Symbol(name, kind) { Unit = unit };
            symbols.Add(name, symbol);
            if (!byAnyCase.TryGetValue(name, out List<Symbol>? same))
                byAnyCase.Add(name, same = new(1));
            same.Add(symbol);
        }

        return symbol;
    }

    /// <summary>Gives a name its value in this pass.</summary>
    public void Assign(Symbol symbol, int value, bool known)
    {
        bool first = symbol.Pass != Pass;
        if (first)
        {
            if (symbol.Pass == 0 || symbol.FirstValueOfPass != value || symbol.FirstKnownOfPass != known)
                MarkChanged(symbol.Name, symbol.Pass != 0);
            symbol.HasSeveralValues = false;
            symbol.FirstValueOfPass = value;
            symbol.FirstKnownOfPass = known;
            symbol.Pass = Pass;
        }
        else if (symbol.Value != value || symbol.IsKnown != known)
        {
            symbol.HasSeveralValues = true;
        }

        symbol.Value = value;
        symbol.IsKnown = known;
    }

    private void MarkChanged(string name, bool again = true)
    {
        // In the first pass every name is new: only a reference before the definition makes that matter.
        Changed = true;
        if (again)
            LastChanged = name;
    }
}
