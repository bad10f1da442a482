namespace AsmLsp.Core.Assembly;

/// <summary>What the surroundings say about a program, beside its text.</summary>
public sealed record AssemblyOptions
{
    /// <summary>The usual: everything as the program says.</summary>
    public static AssemblyOptions Default { get; } = new();

    /// <summary>The chip to assemble for, whatever the program says; null leaves it to the program.</summary>
    public string? Chip { get; init; }

    /// <summary>The chip to take where the program names none (a project file says it); null for none.</summary>
    public string? ProjectChip { get; init; }

    /// <summary>
    /// Names that are defined before the first line, one a line, 'NAME' or 'NAME=TEXT' (see <see cref="OutsideDefines"/>);
    /// null for none.
    /// </summary>
    public string? Defines { get; init; }

    /// <summary>The clock in hertz, as the surroundings give it, or null.</summary>
    public double? ClockHertz { get; init; }

    /// <summary>What is fitted on the board, or null.</summary>
    public BoardFacts? Board { get; init; }

    /// <summary>Codes of problems that are switched off, one a line (see <see cref="Problems.IgnoredProblems"/>); null for none.</summary>
    public string? Ignore { get; init; }

    /// <summary>Base of bare numbers until the program says otherwise: 2, 8, 10 or 16 (the usual one).</summary>
    public int Radix { get; init; } = 16;
}
