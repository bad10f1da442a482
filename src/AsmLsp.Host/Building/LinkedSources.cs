using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Host.Building;

/// <summary>Finds out which of several sources make one program: those that share names by 'extern' and 'global'.</summary>
public static class LinkedSources
{
    /// <summary>The other sources of a list that belong to one program with a source; empty where it is alone.</summary>
    public static IReadOnlyList<string> With(string path, IReadOnlyList<string> all)
    {
        ArgumentNullException.ThrowIfNull(all);
        if (all.Count < 2)
            return [];
        var names = all.Distinct().ToDictionary(p => p, SharedBy);
        var found = new List<string> { path };
        for (int i = 0; i < found.Count; i++)
            foreach (string other in names.Keys)
                if (!found.Contains(other) && AreLinked(names[found[i]], names[other]))
                    found.Add(other);
        return found.Count == 1 ? [] : found[1..];
    }

    private static bool AreLinked(Shared one, Shared other) =>
        one.Wanted.Overlaps(other.Given) || other.Wanted.Overlaps(one.Given);

    private static Shared SharedBy(string path)
    {
        var shared = new Shared([], []);
        if (
            FileKinds.Of(path) != FileKind.Regular
            || !new FileLoader().Load(path).TryGet(out LoadedFile? file, out LoadFailure? _)
        )
            return shared;
        foreach (TextLine line in file.Text.Lines)
        {
            var syntax = LineSyntax.Of(line);
            HashSet<string>? names = syntax.Keyword switch
            {
                Keyword.Extern => shared.Wanted,
                Keyword.Global => shared.Given,
                _ => null,
            };
            if (names is not null)
                names.UnionWith(syntax.Operands.Select(operand => operand.Text.Trim()));
        }

        return shared;
    }

    private sealed record Shared(HashSet<string> Wanted, HashSet<string> Given);
}
