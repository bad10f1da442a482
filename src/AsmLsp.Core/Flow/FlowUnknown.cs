namespace AsmLsp.Core.Flow;

/// <summary>What the analysis of a program could not know.</summary>
public enum UnknownKind
{
    /// <summary>A jump is computed, and the words in front of it do not say where it goes: any label may be reached with anything selected.</summary>
    ComputedJump,

    /// <summary>A call or jump whose page is not known, because words lie at that address in several pages or in none.</summary>
    Target,

    /// <summary>A word that is no instruction is reached.</summary>
    NotAnInstruction,

    /// <summary>So many routines run into each other that not all of them were followed.</summary>
    TangledRoutines,
}

/// <summary>Something that the analysis of a program could not know.</summary>
/// <param name="Kind">What.</param>
/// <param name="Address">The address of the word, or -1 where it concerns the whole program.</param>
public readonly record struct FlowUnknown(UnknownKind Kind, int Address);
