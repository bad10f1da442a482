using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Repairs;

/// <summary>Finds the repairs for a problem.</summary>
public static class FixFinder
{
    private static readonly Dictionary<ProblemKind, FixProvider[]> ByKind = FixList
        .All.SelectMany(p => p.Answers, (provider, kind) => (provider, kind))
        .GroupBy(p => p.kind, p => p.provider)
        .ToDictionary(g => g.Key, g => g.ToArray());

    /// <summary>Whether a kind of problem has repairs at all.</summary>
    public static bool Knows(ProblemKind kind) => ByKind.ContainsKey(kind);

    /// <summary>The repairs for a problem of the program, in menu order, the certain ones first.</summary>
    public static ImmutableArray<Fix> For(ProgramAnalysis program, Problem problem)
    {
        ArgumentNullException.ThrowIfNull(program);
        ArgumentNullException.ThrowIfNull(problem);
        if (!ByKind.TryGetValue(problem.Kind, out FixProvider[]? providers))
            return [];
        var found = new List<Fix>();
        var request = new FixRequest(program, problem, found);
        foreach (FixProvider provider in providers)
            provider.Offer(request);
        return
        [
            .. found.Where(f => f.Certainty == Certainty.Certain),
            .. found.Where(f => f.Certainty == Certainty.Guess),
        ];
    }
}
