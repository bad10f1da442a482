using AsmLsp.Core.Recovery.Results;

namespace AsmLsp.Core.Recovery.Suspicions;

/// <summary>
/// Looks over a recovered program for signs that something is wrong where every line reads well: a line that says nothing new, a
/// call with fewer values than others. Nothing is changed; the lines get a doubt.
/// </summary>
internal static class SuspicionList
{
    private static readonly Action<SuspicionSheet>[] All =
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
        var sheet = new SuspicionSheet(result);
        foreach (Action<SuspicionSheet> look in All)
            look(sheet);
        return sheet.ToResult();
    }
}
