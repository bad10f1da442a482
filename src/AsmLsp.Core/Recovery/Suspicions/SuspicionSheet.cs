using AsmLsp.Core.Assembly;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Recovery.Suspicions;

/// <summary>A recovered program with the doubts that are put on it.</summary>
internal sealed class SuspicionSheet(RecoveryResult result)
{
    private readonly SortedDictionary<int, Doubt> doubts = [];
    private readonly List<RecoveryEntry> entries = [];

    public RecoveryResult Result => result;

    public ProgramAnalysis Program => result.Program;

    /// <summary>Printed rows that are below a comment and are known to be rows of the program.</summary>
    public IReadOnlySet<PrintedPlace> KnownRows { get; init; } =
        System.Collections.Immutable.ImmutableHashSet<PrintedPlace>.Empty;

    /// <summary>Whether the page shows that a line is a row of its own.</summary>
    public bool IsKnownRow(int line) =>
        line < result.Origins.Length && result.Origins[line].Places is [var place] && KnownRows.Contains(place);

    public int LineCount => result.Source.LineCount;

    public LineSyntax Syntax(int line) => LineSyntax.Of(result.Source[line]);

    public LineFacts Facts(int line) => result.Program.FactsOf(result.Program.Root, line);

    /// <summary>Whether a line is read: not after the end, not left out by a choice.</summary>
    public bool IsRead(int line) => (Facts(line).Role & (LineRole.AfterEnd | LineRole.Skipped)) == 0;

    /// <summary>Puts a doubt on a line, and reports it; a line keeps its first.</summary>
    public void Mark(int line, string code, string words, string message)
    {
        if (doubts.ContainsKey(line))
            return;
        LineOrigin origin = line < result.Origins.Length ? result.Origins[line] : LineOrigin.None;
        doubts.Add(
            line,
            new Doubt(words)
            {
                Kind = DoubtKind.Suspicion,
                Origin = RecoveredDoubts.PrintOf(result, line),
                Evidence = code,
            }
        );
        entries.Add(
            new RecoveryEntry(
                line,
                0,
                result.Source[line].Text.Length,
                Severity.Warning,
                code,
                message,
                origin.Page > 0 ? origin.Page : null
            )
        );
    }

    public RecoveryResult ToResult()
    {
        if (entries.Count == 0)
            return result;
        return RecoveredDoubts.Add(result, doubts, entries);
    }
}
