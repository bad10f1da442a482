using System.Collections.Concurrent;
using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Repairs;
using AsmLsp.Core.Text;

namespace AsmLsp.Ide;

/// <summary>
/// An assembled program as an editor asks about it: its problems and what features work out from it, each made once however often it is
/// asked for. Never changes, so that any number of requests may share it.
/// </summary>
/// <param name="analysis">The assembled program.</param>
/// <param name="isFragment">Whether its root is a file made to be included, seen without the program that includes it.</param>
public sealed class ProgramModel(ProgramAnalysis analysis, bool isFragment = false)
{
    private readonly ConcurrentDictionary<SourceFile, Lazy<ImmutableArray<Problem>>> problems = new();
    private readonly ConcurrentDictionary<SourceFile, Lazy<ImmutableArray<Problem>>> places = new();
    private readonly ConcurrentDictionary<Type, Lazy<object>> derived = new();

    /// <summary>The assembled program.</summary>
    public ProgramAnalysis Analysis => analysis;

    /// <summary>Whether the root is a file made to be included, seen without the program that includes it.</summary>
    public bool IsFragment => isFragment;

    /// <summary>All problems of all files.</summary>
    public IEnumerable<Problem> AllProblems => analysis.Files.SelectMany(file => ProblemsOf(file));

    /// <summary>One file of the program.</summary>
    public ProgramFile FileOf(SourceFile source) => new(this, source);

    /// <summary>Everything that a person should know about one file of the program.</summary>
    public ImmutableArray<Problem> ProblemsOf(SourceFile file) =>
        problems.GetOrAdd(file, of => new(() => ProgramProblems.Gathered(EachProblemOf(of), fadesUnused: true))).Value;

    /// <summary>The same with every place of every problem, for the fixes.</summary>
    public ImmutableArray<Problem> EachProblemOf(SourceFile file) =>
        places
            .GetOrAdd(
                file,
                of =>
                    new(() =>
                        isFragment ? ProgramProblems.OfFragment(analysis, of) : ProgramProblems.Each(analysis, of)
                    )
            )
            .Value;

    /// <summary>Something that a feature works out from the whole program; made once, shared by all requests.</summary>
    internal T Derive<T>(Func<ProgramModel, T> make)
        where T : class => (T)derived.GetOrAdd(typeof(T), _ => new Lazy<object>(() => make(this))).Value;
}
