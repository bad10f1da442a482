namespace AsmLsp.Core.Assembly;

/// <summary>What a section holds.</summary>
internal enum SectionKind
{
    /// <summary>Words of the program.</summary>
    Code,

    /// <summary>Registers.</summary>
    Data,

    /// <summary>Registers with values at the start.</summary>
    InitializedData,

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

    /// <summary>The address after the last one.</summary>
    public int End { get; private set; } = start;

    public int Size => End - Start;

    /// <summary>Whether the section holds bytes for the EEPROM.</summary>
    public bool HasEepromBytes { get; set; }

    /// <summary>Whether the section holds words that are no bytes for the EEPROM.</summary>
    public bool HasProgramWords { get; set; }

    /// <summary>
    /// Whether the tool places the section in the EEPROM: it has a name of its own, no address, and holds nothing
    /// but 'de' bytes. Words in published programs prove that place.
    /// </summary>
    public bool GoesToEeprom =>
        Kind == SectionKind.Code && !IsPlaced && HasEepromBytes && !HasProgramWords && Name[0] != '.';

    public void Grow(int next)
    {
        Next = next;
        End = Math.Max(End, next);
    }
}
