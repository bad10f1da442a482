using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Fixes;
using AsmLsp.Core.Flow;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Text;

namespace AsmLsp.LanguageServer.Workspace;

/// <summary>Where the problems of a program come from, and which of them a person is told.</summary>
internal static class ProblemSource
{
    /// <summary>What is no fault in a file that is made to be included and is seen alone: its names and its chip come from elsewhere.</summary>
    private static readonly HashSet<ProblemKind> NotInFragments =
    [
        Catalogue.UndefinedName,
        Catalogue.ChipNotNamed,
        Catalogue.ChipNeeded,
        Catalogue.EndMissing,
        Catalogue.NoProgram,
        Catalogue.NoConfiguration,
        Catalogue.ExternalName,
        Catalogue.IncludeMissing,
    ];

    /// <summary>The problems of one file, by place.</summary>
    public static ImmutableArray<Problem> Of(ProgramVersion program, SourceFile file, ImmutableArray<Problem> flow)
    {
        var found = new List<Problem>(ProgramProblems.All(program.Analysis, file));
        int before = found.Count;
        foreach (Problem problem in flow)
        {
            if (problem.Place.File == file)
            {
                found.Add(problem);
            }
        }

        if (program.IsFragment)
        {
            found.RemoveAll(problem => NotInFragments.Contains(problem.Kind) || IsPerhapsMacro(problem));
        }

        if (found.Count > before && before > 0)
        {
            // Stable, so that problems of one place keep the order in which they were found.
            return [.. found.OrderBy(problem => problem.Place.Line).ThenBy(problem => problem.Place.Columns.Start)];
        }

        return [.. found];
    }

    /// <summary>An operation that is near to none that is known may be a macro of the program around the file; 'movlv' is a slip.</summary>
    private static bool IsPerhapsMacro(Problem problem) =>
        problem.Kind == Catalogue.UnknownOperation && problem.Arguments is [_, ""];

    /// <summary>What following the flow of the program finds.</summary>
    public static ImmutableArray<Problem> OfFlow(ProgramAnalysis analysis) => FlowProblems.Find(analysis);
}
