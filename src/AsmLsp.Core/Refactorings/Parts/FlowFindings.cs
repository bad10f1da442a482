using System.Collections.Immutable;
using System.Runtime.CompilerServices;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Flow;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Refactorings.Parts;

/// <summary>What the ways through a program prove to be wrong; worked out once a program.</summary>
internal sealed class FlowFindings
{
    private static readonly ConditionalWeakTable<ProgramAnalysis, FlowFindings> Known = [];

    private FlowFindings(ProgramAnalysis program) => All = FlowProblems.Find(program);

    public ImmutableArray<Problem> All { get; }

    public static FlowFindings Of(ProgramAnalysis program) => Known.GetValue(program, static p => new FlowFindings(p));

    public int Count(ProblemKind kind)
    {
        int count = 0;
        foreach (Problem problem in All)
            if (problem.Kind == kind)
                count++;
        return count;
    }

    /// <summary>Whether no kind of problem occurs more often than in another program.</summary>
    public bool IsNoWorseThan(FlowFindings other)
    {
        foreach (Problem problem in All)
            if (Count(problem.Kind) > other.Count(problem.Kind))
                return false;
        return true;
    }
}
