using AsmLsp.Core.Assembly;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Recovery.Suspicions;

/// <summary>
/// Looks over a recovered program for signs that something is wrong where every line reads well: a line that says nothing new, a
/// call with fewer values than others. Nothing is changed; the lines get a doubt.
/// </summary>
internal static class RecoveryMarks
{
    private static readonly Action<MarkSheet>[] All =
    [
        RepeatedLine.Look,
        ShortCall.Look,
        UnknownChoice.Look,
        BrokenDefinition.Look,
        ShortBlock.Look,
        OddOperand.Look,
        BlanksInText.Look,
    ];

    /// <summary>Adds all doubts of this kind.</summary>
    public static RecoveryResult Add(RecoveryResult result)
    {
        var sheet = new MarkSheet(result);
        foreach (Action<MarkSheet> look in All)
            look(sheet);
        return sheet.ToResult();
    }
}

/// <summary>A recovered program with the doubts that are put on it.</summary>
internal sealed class MarkSheet(RecoveryResult result)
{
    private readonly SortedDictionary<int, Doubt> doubts = [];
    private readonly List<RecoveryEntry> entries = [];

    public RecoveryResult Result => result;

    public ProgramAnalysis Program => result.Program;

    public int LineCount => result.Source.LineCount;

    public LineSyntax Syntax(int line) => LineSyntax.Of(result.Source[line]);

    public LineFacts Facts(int line) => result.Program.FactsOf(result.Program.Root, line);

    /// <summary>Whether a line is read: not behind the end, not left out by a choice.</summary>
    public bool IsRead(int line) => (Facts(line).Role & (LineRole.AfterEnd | LineRole.Skipped)) == 0;

    /// <summary>Puts a doubt on a line, and tells of it; a line keeps its first.</summary>
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
