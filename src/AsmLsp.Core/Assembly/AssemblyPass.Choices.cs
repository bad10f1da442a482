using AsmLsp.Core.Problems;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Assembly;

/// <content>Conditions in macros that ask where a label further down lies, as long jumps do.</content>
internal sealed partial class AssemblyPass
{
    private readonly Dictionary<(SourceFile, int), int> choicesOfLine = [];
    private string? labelAhead;

    // What each such condition came to, from pass to pass: a label cannot be moved, so only a choice that turns is reported.
    private readonly Dictionary<(SourceFile File, int Line, int Time), (bool Holds, bool HasTurned)> choices;

    /// <summary>Notes what a condition came to; reports it where the addresses below turned it from one pass to the next.</summary>
    public void NoteChoice(Value condition, in EffectiveLine line)
    {
        if (labelAhead is not { } label)
            return;
        labelAhead = null;
        if (!condition.IsKnown)
            return;
        (SourceFile, int) at = (line.File, line.Number);
        int time = choicesOfLine[at] = choicesOfLine.GetValueOrDefault(at) + 1;
        bool holds = condition.Number != 0;
        var key = (line.File, line.Number, time);
        bool hasTurned = choices.TryGetValue(key, out var before) && (before.HasTurned || before.Holds != holds);
        choices[key] = (holds, hasTurned);
        if (hasTurned)
            Report(Catalogue.ConditionLooksAhead, line.OperationPlace, line.Via, label, "further down");
    }
}
