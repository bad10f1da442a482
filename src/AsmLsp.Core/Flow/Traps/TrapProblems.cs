using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Flow.Checks;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Flow.Traps;

/// <summary>
/// The hazards of the bench: what a program does that stops or endangers it although every line is correct. Each check reports only what it
/// can prove from the words; a habit of working programs is a note at most.
/// </summary>
public static class TrapProblems
{
    // The order of the checks is that of the problems on one line. A test holds that no check is missing.
    internal static ImmutableArray<TrapCheck> Checks { get; } =
    [
        new NoChipCheck(),
        new InterruptContextCheck(),
        new InterruptFlagCheck(),
        new InterruptHandlerCheck(),
        new SharedRoutineCheck(),
        new EepromWriteCheck(),
        new ResultReadEarlyCheck(),
        new NumberAsRegisterCheck(),
        new ComparisonOverwritesCheck(),
        new CarryTestCheck(),
        new ConstantComparisonCheck(),
        new CounterResetCheck(),
        new UnknownCarryCheck(),
        new ReadBeforeWriteCheck(),
        new TableIndexCheck(),
        new LostValueCheck(),
        new MissingMemoryCheck(),
        new VariableOverRegisterCheck(),
        new SameAddressCheck(),
        new FallsIntoNextCheck(),
        new DirectionCheck(),
        new PinLimitsCheck(),
        new PullUpCheck(),
        new ResetPinCheck(),
        new ReadModifyWriteCheck(),
        new PortReadCheck(),
        new AnalogOutputCheck(),
        new LowVoltageOnCheck(),
        new WatchdogLoopCheck(),
        new UnusedCodeCheck(),
        new UnusedNameCheck(),
    ];

    /// <summary>The problems, by line; none while the program has errors, because its words cannot be relied on.</summary>
    public static ImmutableArray<Problem> Find(ProgramAnalysis program)
    {
        ArgumentNullException.ThrowIfNull(program);
        if (program.HasErrors || program.Image.ProgramWords == 0)
            return [];
        var context = new TrapContext(FlowGraph.Of(program));
        var report = new FlowReport();
        foreach (TrapCheck check in Checks)
            check.Run(context, report);
        return report.Sorted(program);
    }
}
