using System.Collections.Concurrent;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Explain;

/// <summary>How the names of a program are used, counted once a name: every line that mentions it asks again.</summary>
internal sealed class NameUses(ProgramAnalysis program)
{
    private readonly ConcurrentDictionary<string, Uses> known = new(StringComparer.Ordinal);

    public static Uses Of(ProgramAnalysis program, string name)
    {
        NameUses uses = program.Derive(static of => new NameUses(of));
        return uses.known.GetOrAdd(name, static (key, all) => all.Count(key), uses);
    }

    private Uses Count(string name)
    {
        var calls = new List<SourcePlace>();
        var jumps = new List<SourcePlace>();
        int others = 0;
        foreach (Reference use in program.References.Of(name))
        {
            if (use.IsDefinition)
                continue;
            string operation = program.SyntaxOf(use.Place.File, use.Place.Line).Operation ?? "";
            if (Is(operation, "call", "lcall"))
                calls.Add(use.Place);
            else if (Is(operation, "goto", "lgoto", "b", "bz", "bnz", "bc", "bnc", "bdc", "bndc"))
                jumps.Add(use.Place);
            else
                others++;
        }

        return new Uses(calls, jumps, others);
    }

    private static bool Is(string operation, params ReadOnlySpan<string> words)
    {
        foreach (string word in words)
            if (word.Equals(operation, StringComparison.OrdinalIgnoreCase))
                return true;
        return false;
    }

    /// <summary>The uses of one name, definitions left out.</summary>
    public sealed record Uses(IReadOnlyList<SourcePlace> Calls, IReadOnlyList<SourcePlace> Jumps, int Others)
    {
        public int Total => Calls.Count + Jumps.Count + Others;
    }
}
