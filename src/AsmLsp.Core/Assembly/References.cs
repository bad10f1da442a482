using System.Collections.Immutable;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Assembly;

/// <summary>One use of a name.</summary>
/// <param name="Name">The name as defined.</param>
/// <param name="Place">Where it is.</param>
/// <param name="Via">The call through which the line was reached, or null where it is in a file itself.</param>
/// <param name="IsDefinition">Whether the name is defined here.</param>
/// <param name="IsBuiltIn">Whether the name is one of the chip's.</param>
public sealed record Reference(string Name, SourcePlace Place, Expansion? Via, bool IsDefinition, bool IsBuiltIn)
{
    /// <summary>Number of the source whose name it is, in a program of several.</summary>
    internal int Unit { get; init; }
}

/// <summary>All uses of all names of a program, by name and by place.</summary>
public sealed class References
{
    private readonly Dictionary<string, List<Reference>> byName = new(StringComparer.Ordinal);
    private readonly Dictionary<(string File, int Line), List<Reference>> byLine;

    private References(Dictionary<(string File, int Line), List<Reference>> byLine) => this.byLine = byLine;

    /// <summary>The uses of a name, in order of the program; a macro's lines give a use once.</summary>
    public IReadOnlyList<Reference> Of(string name) =>
        byName.TryGetValue(name, out List<Reference>? found) ? found : [];

    /// <summary>The uses as one of several sources sees them: of names of its own, and of those that it shares.</summary>
    internal References AsSeenBy(Func<string, Symbol?> find, int unit)
    {
        var seen = new References(byLine);
        foreach ((string name, List<Reference> all) in byName)
        {
            int owner = find(name)?.Unit ?? unit;
            List<Reference> own = [.. all.Where(r => r.IsBuiltIn || r.Unit == owner)];
            if (own.Count > 0)
                seen.byName.Add(name, own);
        }

        return seen;
    }

    /// <summary>The uses on a line.</summary>
    public IReadOnlyList<Reference> On(SourceFile file, int line)
    {
        ArgumentNullException.ThrowIfNull(file);
        return byLine.TryGetValue((file.Name, line), out List<Reference>? found) ? found : [];
    }

    /// <summary>The use at a column of a line, or null.</summary>
    public Reference? At(SourceFile file, int line, int column)
    {
        foreach (Reference reference in On(file, line))
            if (reference.Place.Columns.Touches(column))
                return reference;
        return null;
    }

    internal static References Collect(
        ImmutableArray<SourceFile> roots,
        IIncludeResolver includes,
        AssemblyOptions options
    )
    {
        var sink = new Sink();
        Assembler.Assemble(roots, includes, options, sink, new AssemblyWork(CancellationToken.None));
        return sink.ToReferences();
    }

    private sealed class Sink : IReferenceSink
    {
        private readonly List<Reference> all = [];
        private readonly HashSet<(string, string, int, int)> seen = [];

        public void BeginPass()
        {
            all.Clear();
            seen.Clear();
        }

        public void Add(Symbol symbol, SourcePlace place, Expansion? via, bool isDefinition) =>
            Keep(symbol.Name, place, via, isDefinition, false, symbol.Unit);

        public void AddBuiltIn(string name, SourcePlace place, Expansion? via) =>
            Keep(name, place, via, false, true, 0);

        public References ToReferences()
        {
            var result = new References([]);
            foreach (Reference reference in all)
            {
                if (!result.byName.TryGetValue(reference.Name, out List<Reference>? same))
                    result.byName.Add(reference.Name, same = []);
                same.Add(reference);
                var key = (reference.Place.File.Name, reference.Place.Line);
                if (!result.byLine.TryGetValue(key, out List<Reference>? line))
                    result.byLine.Add(key, line = []);
                line.Add(reference);
            }

            return result;
        }

        private void Keep(string name, SourcePlace place, Expansion? via, bool isDefinition, bool isBuiltIn, int unit)
        {
            // A define from outside is in no file that could be shown.
            if (place.File.Name == OutsideDefines.FileName)
                return;
            // 'loop·3', made new by a macro's call, is the 'loop' of its body.
            int fresh = name.IndexOf('·', StringComparison.Ordinal);
            if (fresh > 0)
                name = name[..fresh];
            if (seen.Add((name, place.File.Name, place.Line, place.Columns.Start)))
                all.Add(new Reference(name, place, via, isDefinition, isBuiltIn) { Unit = unit });
        }
    }
}
