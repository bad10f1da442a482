using AsmLsp.Core.Text;

namespace AsmLsp.Core.Assembly;

/// <summary>What a name of a program means.</summary>
public enum SymbolKind
{
    /// <summary>An address in program memory.</summary>
    Label,

    /// <summary>A value given once (<c>equ</c>, <c>constant</c>).</summary>
    Constant,

    /// <summary>A value that may change on the way (<c>set</c>, <c>variable</c>, <c>=</c>).</summary>
    Variable,

    /// <summary>A member of a block of variables (<c>cblock</c>), or reserved data memory.</summary>
    BlockMember,

    /// <summary>A text that is put in wherever the name is (<c>#define</c>).</summary>
    Define,

    /// <summary>Lines that are put in wherever the name is called.</summary>
    Macro,

    /// <summary>A section's name.</summary>
    Section,

    /// <summary>A name that another file is said to define.</summary>
    External,
}

/// <summary>A name that a program defines, after its last pass.</summary>
public sealed class Symbol
{
    internal Symbol(string name, SymbolKind kind) => (Name, Kind) = (name, kind);

    /// <summary>The name as defined.</summary>
    public string Name { get; }

    /// <summary>What it means.</summary>
    public SymbolKind Kind { get; internal set; }

    /// <summary>Its value; for a variable the last one. 0 for names without a value.</summary>
    public int Value { get; internal set; }

    /// <summary>Whether the value could be worked out.</summary>
    public bool IsKnown { get; internal set; }

    /// <summary>Where it is defined; a variable's first assignment.</summary>
    public SourcePlace Definition { get; internal set; }

    /// <summary>The call that the definition comes from, or null where it is in a file itself.</summary>
    public Expansion? Via { get; internal set; }

    /// <summary>The text of a define, or null.</summary>
    public string? Text { get; internal set; }

    /// <summary>The parameters of a macro or define; empty for others.</summary>
    public IReadOnlyList<string> Parameters { get; internal set; } = [];

    /// <summary>How many locations a member of a block takes; 0 for other names.</summary>
    public int Size { get; internal set; }

    /// <summary>For a define whose name was a value above it: that value.</summary>
    internal int? ValueBefore { get; set; }

    /// <summary>Number of the source file, of those that the program is put together from, whose name it is.</summary>
    internal int Unit { get; init; }

    internal int Pass { get; set; }

    internal int FirstValueOfPass { get; set; }

    internal bool FirstKnownOfPass { get; set; }

    internal int LastValueOfPass { get; set; }

    internal bool LastKnownOfPass { get; set; }

    /// <summary>Whether one pass gave the name more than one value.</summary>
    internal bool HasSeveralValues { get; set; }

    /// <summary>Whether something uses the name.</summary>
    internal bool IsReferenced { get; set; }

    internal MacroBody? Body { get; set; }
}
