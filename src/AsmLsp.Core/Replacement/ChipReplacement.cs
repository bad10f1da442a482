using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Replacement;

/// <summary>A program put onto another chip: the new source, what was changed and why, what a person has to decide, and what was proved.</summary>
public sealed class ChipReplacement
{
    private ChipReplacement(
        Device from,
        Device to,
        SourceFile source,
        ProgramAnalysis program,
        ImmutableArray<ReplacementFinding> findings,
        WordProof words,
        RunProof? run
    ) => (From, To, Source, Program, Findings, Words, Run) = (from, to, source, program, findings, words, run);

    /// <summary>The chip that the program was for.</summary>
    public Device From { get; }

    /// <summary>The chip that it is for now.</summary>
    public Device To { get; }

    /// <summary>The new source; a line that needs a decision carries the mark of a doubt.</summary>
    public SourceFile Source { get; }

    /// <summary>The new program.</summary>
    public ProgramAnalysis Program { get; }

    /// <summary>What the change comes to, in the order in which a person reads it.</summary>
    public ImmutableArray<ReplacementFinding> Findings { get; }

    /// <summary>How the words of both programs compare.</summary>
    public WordProof Words { get; }

    /// <summary>How both programs behaved when they were run, or null where the new one does not build.</summary>
    public RunProof? Run { get; }

    /// <summary>Whether nothing is left for a person to decide.</summary>
    public bool IsClean =>
        !Program.HasErrors && Findings.All(static f => f.Kind is FindingKind.Changed or FindingKind.Note);

    /// <summary>Puts a program onto another chip. The program must build without errors and name a chip.</summary>
    public static ChipReplacement Of(ProgramAnalysis program, Device to)
    {
        ArgumentNullException.ThrowIfNull(program);
        ArgumentNullException.ThrowIfNull(to);
        Device from = program.Device ?? throw new ArgumentException("The program names no chip.", nameof(program));
        var work = new ReplacementWork(program, from, to);
        work.NameTheChip();
        work.Configure();
        work.MoveMemory();
        work.FreePins();
        work.MoveRegisters();
        WordProof words = work.Prove();
        work.DoubtBits();
        SourceFile source = work.Draft.ToFile();
        ProgramAnalysis after = program.With(new Dictionary<SourceFile, SourceFile> { [program.Root] = source });
        RunProof? run = after.HasErrors ? null : RunProof.Of(program, from, after, to);
        if (after.HasErrors)
            work.Add(
                FindingKind.Impossible,
                "program",
                null,
                $"The new program does not build: {after.Problems.First(static p => p.Severity == Problems.Severity.Error).Message}"
            );
        if (run is { Difference: { } difference })
            work.Add(FindingKind.Doubt, "program", null, difference);
        ReplacementFinding[] all = [.. work.Findings, .. ChipDifferences.Of(program, from, to)];
        return new ChipReplacement(
            from,
            to,
            source,
            after,
            [.. all.OrderByDescending(static f => f.Kind).ThenBy(static f => f.Line ?? -1)],
            words,
            run
        );
    }
}
