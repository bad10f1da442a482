namespace AsmLsp.Core.Assembly;

/// <summary>What a section holds.</summary>
internal enum SectionKind
{
    /// <summary>Words of the program.</summary>
    Code,

    /// <summary>Registers.</summary>
    Data,

    /// <summary>Registers that every bank sees.</summary>
    SharedData,

    /// <summary>Registers that share their places with those of the sections of the same kind and name.</summary>
    OverlaidData,
}

/// <summary>A part of a program that the tool, or the program, gives its place.</summary>
internal sealed class Section(string name, SectionKind kind, int start, bool isPlaced)
{
    public string Name { get; } = name;

    public SectionKind Kind { get; } = kind;

    public bool IsData => Kind != SectionKind.Code;

    /// <summary>Where the section starts.</summary>
    public int Start { get; } = start;

    /// <summary>Whether the program itself says where the section starts.</summary>
    public bool IsPlaced { get; } = isPlaced;

    /// <summary>The address of the next word or register.</summary>
    public int Next { get; set; } = start;

    /// <summary>The address behind the last one.</summary>
    public int End { get; private set; } = start;

    public int Size => End - Start;

    public void Grow(int next)
    {
        Next = next;
        End = Math.Max(End, next);
    }
}
