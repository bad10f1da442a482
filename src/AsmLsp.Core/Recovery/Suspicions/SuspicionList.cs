using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Text;

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
    /// <param name="result">The recovered program.</param>
    /// <param name="known">Printed rows that are below a comment and are known to be rows of the program.</param>
    public static RecoveryResult Add(RecoveryResult result, IReadOnlySet<PrintedPlace> known)
    {
        var sheet = new SuspicionSheet(result) { KnownRows = known };
        foreach (Action<SuspicionSheet> look in All)
            look(sheet);
        return sheet.ToResult();
    }
}
