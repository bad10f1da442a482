using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Flow;
using AsmLsp.Core.Flow.Pins;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Explain.Outlines;

/// <summary>A stretch of the program: start-up, the main loop, or the code of interrupts.</summary>
/// <param name="Address">The address where it begins.</param>
/// <param name="Line">The line of that word.</param>
/// <param name="Words">Its words, without those of routines that it calls.</param>
/// <param name="Cycles">
/// Start-up: until the main loop is entered; main loop: one lap; interrupt: to its return. Null where they cannot be counted.
/// </param>
/// <param name="Calls">The routines that it calls.</param>
/// <param name="Purpose">What the comments say, or null.</param>
public sealed record OutlinePart(
    int Address,
    LinePlace Line,
    int Words,
    CycleRange? Cycles,
    ImmutableArray<string> Calls,
    string? Purpose
);

/// <summary>A line of a file.</summary>
/// <param name="File">The file.</param>
/// <param name="Line">The line, from 0.</param>
public readonly record struct LinePlace(SourceFile File, int Line);

/// <summary>A routine.</summary>
/// <param name="Name">Its label, or its address where it has none.</param>
/// <param name="Address">The address of its first word.</param>
/// <param name="Line">The line of that word.</param>
/// <param name="Words">Its words, without those of routines that it calls.</param>
/// <param name="Cycles">From its first instruction to its return, that one included; null where they cannot be counted.</param>
/// <param name="Callers">Who calls it, each once.</param>
/// <param name="Calls">The routines that it calls.</param>
/// <param name="Purpose">What the comments above it or at its label say, or null.</param>
/// <param name="MayReturn">Whether it comes back.</param>
public sealed record OutlineRoutine(
    string Name,
    int Address,
    LinePlace Line,
    int Words,
    CycleRange? Cycles,
    ImmutableArray<string> Callers,
    ImmutableArray<string> Calls,
    string? Purpose,
    bool MayReturn
);

/// <summary>A named byte of general-purpose memory.</summary>
/// <param name="Name">The name; of several for one byte the first.</param>
/// <param name="OtherNames">Other names for the same byte.</param>
/// <param name="Address">The data address.</param>
/// <param name="Line">The line that defines it.</param>
/// <param name="Purpose">The comment there, or null.</param>
/// <param name="Writers">Who writes it.</param>
/// <param name="Readers">Who reads it.</param>
public sealed record OutlineVariable(
    string Name,
    ImmutableArray<string> OtherNames,
    int Address,
    LinePlace Line,
    string? Purpose,
    ImmutableArray<string> Writers,
    ImmutableArray<string> Readers
);

/// <summary>A table that a computed jump reads.</summary>
/// <param name="Name">Its label, or that of the routine it belongs to.</param>
/// <param name="Line">The line of its first entry.</param>
/// <param name="Entries">How many entries it has.</param>
/// <param name="Values">The bytes that its entries return; empty for a table of jumps.</param>
/// <param name="Targets">The labels that its entries jump to; empty for a table of bytes.</param>
public sealed record OutlineTable(
    string Name,
    LinePlace Line,
    int Entries,
    ImmutableArray<int> Values,
    ImmutableArray<string> Targets
);

/// <summary>Bytes of the data EEPROM that are programmed with the chip.</summary>
/// <param name="Address">The first address, from 0.</param>
/// <param name="Bytes">The bytes.</param>
/// <param name="Line">The line of the first.</param>
public sealed record OutlineBytes(int Address, ImmutableArray<int> Bytes, LinePlace Line);

/// <summary>A program as a person would describe it: the chip, the pins, routines and what they are for, variables, tables.</summary>
public sealed record ProgramOutline
{
    /// <summary>The program.</summary>
    public required ProgramAnalysis Program { get; init; }

    /// <summary>The first lines of comment, or null.</summary>
    public required string? Title { get; init; }

    /// <summary>The clock, or null where nothing says it.</summary>
    public required Clock? Clock { get; init; }

    /// <summary>Words of program memory that are used.</summary>
    public required int UsedWords { get; init; }

    /// <summary>The configuration field by field; null where the program sets none, or names no chip.</summary>
    public required ConfigurationReading? Configuration { get; init; }

    /// <summary>The pins; null where the program has errors or names no chip.</summary>
    public required PinReport? Pins { get; init; }

    /// <summary>From the reset to the main loop; null where the program begins in it, or has none.</summary>
    public OutlinePart? Start { get; init; }

    /// <summary>The main loop, or null.</summary>
    public OutlinePart? Loop { get; init; }

    /// <summary>The code of interrupts, or null.</summary>
    public OutlinePart? Interrupt { get; init; }

    /// <summary>What the code of interrupts does not put back; empty where all is kept.</summary>
    public ImmutableArray<string> Lost { get; init; } = [];

    /// <summary>The routines in the order of their addresses.</summary>
    public ImmutableArray<OutlineRoutine> Routines { get; init; } = [];

    /// <summary>The variables in the order of their addresses.</summary>
    public ImmutableArray<OutlineVariable> Variables { get; init; } = [];

    /// <summary>The tables in the order of their addresses.</summary>
    public ImmutableArray<OutlineTable> Tables { get; init; } = [];

    /// <summary>What is programmed into the data EEPROM.</summary>
    public ImmutableArray<OutlineBytes> Eeprom { get; init; } = [];

    /// <summary>What could not be known, in sentences.</summary>
    public ImmutableArray<string> Unknowns { get; init; } = [];

    /// <summary>How deep calls are nested at most, the interrupt's included; null where a routine calls itself.</summary>
    public int? Depth { get; init; }

    /// <summary>The outline of a program.</summary>
    public static ProgramOutline Of(ProgramAnalysis program, ExplainOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(program);
        return OutlineBuilder.Build(program, options ?? ExplainOptions.Default);
    }
}
