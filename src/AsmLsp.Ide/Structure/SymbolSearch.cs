namespace AsmLsp.Ide.Structure;

/// <summary>A name of a file that was looked for.</summary>
/// <param name="Rank">How well it fits: 0 for the whole name, 1 for its start, 2 for a part, 3 where the letters come in this order.</param>
/// <param name="Entry">The name in the outline of the file.</param>
/// <param name="Container">The entry that it is inside of, or null.</param>
public readonly record struct FoundSymbol(int Rank, OutlineEntry Entry, string? Container);

/// <summary>Finds names by a part of them.</summary>
public static class SymbolSearch
{
    /// <summary>The names of a file that fit a query, in the order of their lines.</summary>
    public static IEnumerable<FoundSymbol> In(ProgramFile file, string query) => In(Outline.Of(file), null, query);

    private static IEnumerable<FoundSymbol> In(IEnumerable<OutlineEntry> entries, string? container, string query)
    {
        foreach (OutlineEntry entry in entries)
        {
            if (Rank(entry.Name, query) is { } rank)
            {
                yield return new(rank, entry, container);
            }

            foreach (FoundSymbol inner in In(entry.Children, entry.Name, query))
            {
                yield return inner;
            }
        }
    }

    private static int? Rank(string name, string query)
    {
        if (name.Equals(query, StringComparison.OrdinalIgnoreCase))
        {
            return 0;
        }

        int at = name.IndexOf(query, StringComparison.OrdinalIgnoreCase);
        if (at >= 0)
        {
            return at == 0 ? 1 : 2;
        }

        int next = 0;
        foreach (char c in name)
        {
            if (next < query.Length && char.ToLowerInvariant(c) == char.ToLowerInvariant(query[next]))
            {
                next++;
            }
        }

        return next == query.Length ? 3 : null;
    }
}
