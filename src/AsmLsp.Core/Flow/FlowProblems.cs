using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Flow.Checks;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Flow;

/// <summary>
/// Everything that the ways through a program prove to be wrong. Only what holds on every way is reported: where
/// something is not known, nothing is said.
/// </summary>
public static class FlowProblems
{
    // The order of the checks is that of the problems on one line. A test holds that no check is missing.
    internal static ImmutableArray<FlowCheck> Checks { get; } =
    [
        new WrongBankCheck(),
        new WrongPageCheck(),
        new StackDepthCheck(),
        new RunsOffCheck(),
        new WatchdogCheck(),
        new PinsNotDigitalCheck(),
        new LowVoltagePinCheck(),
        new TableBorderCheck(),
        new TableTooShortCheck(),
        new SkipIntoMacroCheck(),
    ];

    /// <summary>The problems, by line; none while the program has errors, because its words are not to be relied on then.</summary>
    public static ImmutableArray<Problem> Find(ProgramAnalysis program)
    {
        ArgumentNullException.ThrowIfNull(program);
        if (program.HasErrors || program.Image.ProgramWords == 0)
            return [];
        FlowGraph graph = FlowGraph.Of(program);
        var report = new FlowReport();
        foreach (FlowCheck check in Checks)
            check.Run(graph, report);
        return report.Sorted(program);
    }
}
