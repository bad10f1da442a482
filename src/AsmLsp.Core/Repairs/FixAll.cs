using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Repairs;

/// <summary>A change that was made without asking.</summary>
/// <param name="Line">The line of the new text, from 0.</param>
/// <param name="Kind">The problem that it answered.</param>
/// <param name="What">What was done, for people.</param>
public sealed record FixChange(int Line, ProblemKind Kind, string What);

/// <summary>A file after all certain repairs.</summary>
public sealed record FixAllResult(SourceText NewText, ImmutableArray<FixChange> Changes);

/// <summary>Makes every certain repair of a file, in rounds, each one compared with the words of the program.</summary>
public static class FixAll
{
    /// <summary>
    /// The file with all certain repairs made, or those of one kind. Where the program had no error, its words are the
    /// same before and after; where it had some, no line that was free of error gives other words.
    /// </summary>
    public static FixAllResult Run(ProgramAnalysis program, SourceFile file, ProblemKind? onlyKind = null) =>
        Run(program, file, kind => onlyKind is null || kind == onlyKind);

    internal static FixAllResult Run(ProgramAnalysis program, SourceFile file, Func<ProblemKind, bool> wanted)
    {
        ArgumentNullException.ThrowIfNull(program);
        ArgumentNullException.ThrowIfNull(file);
        var session = new RepairSession(program, file);
        session.MakeCertain(wanted);
        return new FixAllResult(
            session.File.Text,
            [.. session.Repairs.OrderBy(r => r.Line).Select(r => new FixChange(r.Line, r.Kind, r.What))]
        );
    }
}
