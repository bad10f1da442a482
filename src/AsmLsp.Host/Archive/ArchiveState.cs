using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Repairs;
using AsmLsp.Core.Text;
using AsmLsp.Host.Building;
using AsmLsp.Host.Comparison;

namespace AsmLsp.Host.Archive;

/// <summary>A doubt of the recovery that a person has resolved.</summary>
/// <param name="Before">The line as it was recovered, with its mark.</param>
/// <param name="After">The line as it is now, or null where it is gone.</param>
public sealed record ResolvedDoubt(string Before, string? After);

/// <summary>How the program of an archive is: what is open, what is resolved, what it builds to.</summary>
public sealed class ArchiveState
{
    private ArchiveState(
        ProgramAnalysis program,
        ImmutableArray<Problem> problems,
        ImmutableArray<RecoveryEntry> aboutDocument,
        ImmutableArray<ResolvedDoubt> resolved
    )
    {
        Program = program;
        Open = [.. problems.Where(static p => p.Severity != Severity.Information)];
        AboutDocument = aboutDocument;
        Resolved = resolved;
        Problem[] all = [.. program.Files.SelectMany(f => ProgramProblems.All(program, f))];
        Summary = ProgramBuilder.Summarize(program, all);
    }

    /// <summary>The program.</summary>
    public ProgramAnalysis Program { get; }

    /// <summary>The doubts and problems of its source.</summary>
    public ImmutableArray<Problem> Open { get; }

    /// <summary>What recovery has to say about the document, which no change of the source resolves.</summary>
    public ImmutableArray<RecoveryEntry> AboutDocument { get; }

    /// <summary>The doubts that were resolved since the program was recovered.</summary>
    public ImmutableArray<ResolvedDoubt> Resolved { get; }

    /// <summary>The figures of the program.</summary>
    public BuildSummary Summary { get; }

    /// <summary>Whether nothing is left for a person to do.</summary>
    public bool IsClean => Open.IsEmpty && AboutDocument.IsEmpty;

    /// <summary>Whether a HEX can be built.</summary>
    public bool CanBuild => Summary.Errors == 0 && Program.Image.Count > 0;

    /// <summary>The state of a program that was recovered with a result.</summary>
    public static ArchiveState Of(RecoveryResult result, ProgramAnalysis program)
    {
        SourceText recovered = result.Source,
            now = program.Root.Text;
        // A doubt that is on a line as its mark is open as long as the mark is there.
        ImmutableArray<RecoveryEntry> about =
        [
            .. About(result),
            .. result.Files.SelectMany(static f =>
                About(f.Result).Select(e => e with { Line = 0, Message = $"{f.Name}: {e.Message}" })
            ),
        ];
        ImmutableArray<Problem> problems = [.. program.Files.SelectMany(f => ProgramProblems.OfSource(program, f))];
        ImmutableArray<ResolvedDoubt> resolved =
        [
            .. ResolvedSince(recovered, now),
            .. result.Files.SelectMany(f =>
                program.Files.FirstOrDefault(t => f.IsNamed(t.ShortName)) is { } there
                    ? ResolvedSince(f.File.Text, there.Text)
                    : []
            ),
        ];
        return new ArchiveState(program, problems, about, resolved);
    }

    private static IEnumerable<RecoveryEntry> About(RecoveryResult result) =>
        result.Entries.Where(e =>
            e.Severity != Severity.Information && Catalogue.Find(e.Code) is null && !IsMarked(result.Source, e.Line)
        );

    private static bool IsMarked(SourceText text, int line) =>
        line < text.LineCount && DoubtMark.Find(text[line].Text) is not null;

    private static ImmutableArray<ResolvedDoubt> ResolvedSince(SourceText recovered, SourceText now)
    {
        string[] before = [.. recovered.Lines.Select(static l => l.Text)],
            after = [.. now.Lines.Select(static l => l.Text)];
        // Compared without their marks, so that a line whose mark alone went is the same line.
        string[] left = [.. before.Select(Bare)],
            right = [.. after.Select(Bare)];
        var resolved = ImmutableArray.CreateBuilder<ResolvedDoubt>();
        foreach ((int first, int second) in LineAlignment.Of(left, right))
        {
            if (first < 0 || DoubtMark.Find(before[first]) is null)
                continue;
            if (second < 0)
                resolved.Add(new ResolvedDoubt(before[first], null));
            else if (DoubtMark.Find(after[second]) is null)
                resolved.Add(new ResolvedDoubt(before[first], after[second]));
        }

        return resolved.ToImmutable();
    }

    private static string Bare(string line) =>
        string.Join(' ', DoubtMark.Remove(line).Split((char[])[' ', '\t'], StringSplitOptions.RemoveEmptyEntries));
}
