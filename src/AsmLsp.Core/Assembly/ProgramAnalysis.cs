using System.Collections.Concurrent;
using System.Collections.Immutable;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Assembly;

/// <summary>
/// Everything known about one version of a program: its files, names, words and problems. Immutable; what is not
/// needed at each keystroke is worked out when first asked for.
/// </summary>
public sealed class ProgramAnalysis
{
    private readonly IIncludeResolver includes;
    private readonly AssemblyOptions options;
    private readonly Dictionary<SourceFile, LineFacts[]> facts;
    private readonly Dictionary<string, int> shared = new(StringComparer.Ordinal);
    private readonly ImmutableArray<ProgramAnalysis> parts;
    private readonly ImmutableHashSet<SourceFile> ownFiles = [];
    private readonly Lazy<References> references;
    private readonly Lazy<Dictionary<string, Symbol>> byName;
    private readonly Lazy<ImmutableArray<Symbol>> symbols;
    private readonly ConcurrentDictionary<Type, Lazy<object>> derived = new();

    internal ProgramAnalysis(
        ImmutableArray<SourceFile> roots,
        IIncludeResolver includes,
        AssemblyOptions options,
        AssemblyPass pass
    )
    {
        this.includes = includes;
        this.options = options;
        Roots = roots;
        IReadOnlyCollection<Symbol> symbols =
            pass.Units.Count == 1 ? pass.Units[0].Symbols.All : [.. pass.Units.SelectMany(u => u.Symbols.All)];
        Files = [.. pass.Files];
        this.symbols = new Lazy<ImmutableArray<Symbol>>(() =>
            [.. symbols.OrderBy(s => s.Name, StringComparer.Ordinal)]
        );
        byName = new Lazy<Dictionary<string, Symbol>>(() => ByName(symbols));
        Image = pass.Placer.Image;
        Device = pass.Chip.Device;
        NamesDevice = pass.Chip.NamesDevice;
        DevicePlace = pass.Chip.NamedAt;
        ConfigurationPlaces = [.. pass.Chip.ConfigurationPlaces];
        Includes = [.. pass.Includes];
        LeftOut = [.. pass.Conditions.LeftOut];
        facts = pass.Facts;
        Problems = pass.Problems.ToSorted(pass.Files);
        references = new Lazy<References>(() => References.Collect(roots, includes, options));
        foreach (ProgramUnit unit in pass.Units)
        foreach (string name in unit.Exports.Keys)
            shared.TryAdd(name, unit.Number);
        parts = pass.Units.Count == 1 ? [] : [.. pass.Units.Select(unit => new ProgramAnalysis(this, unit))];
    }

    // The same program with the names as one of its sources sees them.
    private ProgramAnalysis(ProgramAnalysis whole, ProgramUnit unit)
    {
        (includes, options, facts, parts) = (whole.includes, whole.options, whole.facts, []);
        (Roots, Files, Image, Includes, Problems) = (
            whole.Roots,
            [.. whole.Files.Where(unit.Files.Contains)],
            whole.Image,
            whole.Includes,
            whole.Problems
        );
        (Device, NamesDevice, DevicePlace) = (whole.Device, whole.NamesDevice, whole.DevicePlace);
        ConfigurationPlaces = whole.ConfigurationPlaces;
        LeftOut = whole.LeftOut;
        ownFiles = [.. unit.Files];
        Symbol[] seen = [.. unit.Symbols.All, .. unit.Externals.Select(whole.Shared).OfType<Symbol>()];
        symbols = new Lazy<ImmutableArray<Symbol>>(() => [.. seen.OrderBy(s => s.Name, StringComparer.Ordinal)]);
        byName = new Lazy<Dictionary<string, Symbol>>(() => ByName(seen));
        references = new Lazy<References>(() => whole.References.AsSeenBy(FindSymbol, unit.Number));
    }

    /// <summary>The sources that the program is put together from; most have one.</summary>
    public ImmutableArray<SourceFile> Roots { get; }

    /// <summary>The file that the program starts with.</summary>
    public SourceFile Root => Roots[0];

    /// <summary>
    /// The program as a file of it sees it: in a program of several sources each has names of its own, beside those
    /// that are shared.
    /// </summary>
    public ProgramAnalysis SeenFrom(SourceFile file) => parts.FirstOrDefault(p => p.ownFiles.Contains(file)) ?? this;

    /// <summary>All files of the program, the root first; as one of several sources sees it, those of that source.</summary>
    public ImmutableArray<SourceFile> Files { get; }

    /// <summary>The names that the program defines, in order of their spelling.</summary>
    public ImmutableArray<Symbol> Symbols => symbols.Value;

    /// <summary>The words with the lines that made them.</summary>
    public ProgramImage Image { get; }

    /// <summary>The chip that the program is for, or null where it names none that is known.</summary>
    public Device? Device { get; }

    /// <summary>The chip whose built-in names are in force; usually the same as <see cref="Device"/>.</summary>
    public Device? NamesDevice { get; }

    /// <summary>Where the chip is named, or null.</summary>
    public SourcePlace? DevicePlace { get; }

    /// <summary>The values of the configuration directives, in order.</summary>
    public ImmutableArray<SourcePlace> ConfigurationPlaces { get; }

    /// <summary>What the program includes.</summary>
    public ImmutableArray<IncludeUse> Includes { get; }

    /// <summary>The lines that choices leave out, and why.</summary>
    public ImmutableArray<LeftOutPart> LeftOut { get; } = [];

    /// <summary>The problems, by file and line.</summary>
    public ImmutableArray<Problem> Problems { get; }

    /// <summary>Whether a problem keeps the HEX from being written.</summary>
    public bool HasErrors => Problems.Any(p => p.Severity == Severity.Error);

    /// <summary>All uses of all names; worked out when first asked for.</summary>
    public References References => references.Value;

    /// <summary>What the surroundings said.</summary>
    public AssemblyOptions Options => options;

    /// <summary>The name's symbol, exactly spelled, or null.</summary>
    public Symbol? FindSymbol(string name) => byName.Value.GetValueOrDefault(name);

    /// <summary>Something that is worked out from the whole program: made once, however many lines ask.</summary>
    internal T Derive<T>(Func<ProgramAnalysis, T> make)
        where T : class => (T)derived.GetOrAdd(typeof(T), _ => new Lazy<object>(() => make(this))).Value;

    /// <summary>What a line of a file came to; for a line that is not reached, the role says so.</summary>
    public LineFacts FactsOf(SourceFile file, int line) =>
        facts.TryGetValue(file, out LineFacts[]? known) && line >= 0 && line < known.Length
            ? known[line]
            : new LineFacts(-1, 0, 16, LineRole.AfterEnd, 0);

    /// <summary>The line as it was read, the reading of a macro call in column 1 included.</summary>
    public LineSyntax SyntaxOf(SourceFile file, int line)
    {
        ArgumentNullException.ThrowIfNull(file);
        LineSyntax syntax = LineSyntax.Of(file.Text[line]);
        LineRole role = FactsOf(file, line).Role;
        if (role.HasFlag(LineRole.BlockMember))
            return LineSyntax.Parse(file.Text[line].Text, LineReading.NamesOnly);
        if (role.HasFlag(LineRole.LoneLabel))
            return syntax.WithFirstWordAsLabel();
        return role.HasFlag(LineRole.FirstWordIsOperation) ? syntax.WithFirstWordAsOperation() : syntax;
    }

    /// <summary>The same program with some of its files in other versions, as a fix would leave them.</summary>
    public ProgramAnalysis With(IReadOnlyDictionary<SourceFile, SourceFile> changed) =>
        Assembler.Assemble(
            [.. Roots.Select(root => changed.GetValueOrDefault(root, root))],
            new ChangedIncludes(includes, changed),
            options
        );

    // Of names that several sources have, the first counts.
    private static Dictionary<string, Symbol> ByName(IReadOnlyCollection<Symbol> symbols)
    {
        var known = new Dictionary<string, Symbol>(symbols.Count, StringComparer.Ordinal);
        foreach (Symbol symbol in symbols)
            known.TryAdd(symbol.Name, symbol);
        return known;
    }

    private Symbol? Shared(string name) =>
        shared.TryGetValue(name, out int unit)
            ? symbols.Value.FirstOrDefault(s => s.Unit == unit && s.Name == name)
            : null;

    private sealed class ChangedIncludes(IIncludeResolver inner, IReadOnlyDictionary<SourceFile, SourceFile> changed)
        : IIncludeResolver
    {
        public SourceFile? Resolve(string name, SourceFile from)
        {
            SourceFile original = changed.FirstOrDefault(p => p.Value == from).Key ?? from;
            return inner.Resolve(name, original) is { } file ? changed.GetValueOrDefault(file, file) : null;
        }

        public bool IsUnreadable(string name, SourceFile from) =>
            inner.IsUnreadable(name, changed.FirstOrDefault(p => p.Value == from).Key ?? from);

        public IReadOnlyList<string> Candidates(string name, SourceFile from) =>
            inner.Candidates(name, changed.FirstOrDefault(p => p.Value == from).Key ?? from);
    }
}
