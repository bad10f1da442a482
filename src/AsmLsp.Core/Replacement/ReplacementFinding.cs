namespace AsmLsp.Core.Replacement;

/// <summary>What a finding asks of a person.</summary>
public enum FindingKind
{
    /// <summary>The program was changed, and nothing more is to do.</summary>
    Changed,

    /// <summary>Worth knowing; the program needs no change.</summary>
    Note,

    /// <summary>A person has to decide; where a line is concerned it is marked.</summary>
    Doubt,

    /// <summary>The chip cannot take this program as it is.</summary>
    Impossible,
}

/// <summary>Something that running the program on another chip comes to.</summary>
/// <param name="Kind">What it asks of a person.</param>
/// <param name="Area">What it is about: chip, memory, registers, configuration, analog, pins, electrical, program.</param>
/// <param name="Line">The line of the old source, from 0, or null.</param>
/// <param name="Text">In words.</param>
public sealed record ReplacementFinding(FindingKind Kind, string Area, int? Line, string Text);
