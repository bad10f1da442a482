using AsmLsp.Core.Text;

namespace AsmLsp.Core.Assembly;

/// <summary>
/// One of the sources that a program is put together from, with the names that are its own. Most programs have one;
/// in a program of several files each sees its own names, and others only by 'extern' and 'global'.
/// </summary>
internal sealed class ProgramUnit(SourceFile root, int number)
{
    /// <summary>The source that the unit starts with.</summary>
    public SourceFile Root { get; } = root;

    /// <summary>Its number in the program, from 0.</summary>
    public int Number { get; } = number;

    /// <summary>The names that the unit defines.</summary>
    public SymbolTable Symbols { get; } = new(number);

    /// <summary>Names that were used and not found, in any pass.</summary>
    public HashSet<string> Missed { get; } = new(StringComparer.Ordinal);

    /// <summary>Names that another unit is said to define.</summary>
    public HashSet<string> Externals { get; } = new(StringComparer.Ordinal);

    /// <summary>Names that other units may use, with the place that says so.</summary>
    public Dictionary<string, SourcePlace> Exports { get; } = new(StringComparer.Ordinal);

    /// <summary>Whether 'end' was met.</summary>
    public bool HasEnd { get; set; }

    /// <summary>The files of the unit, in this pass.</summary>
    public HashSet<SourceFile> Files { get; } = [];

    /// <summary>Forgets what the pass before found out, but not the names.</summary>
    public void BeginPass()
    {
        Externals.Clear();
        Files.Clear();
        HasEnd = false;
        Symbols.BeginPass();
    }
}
