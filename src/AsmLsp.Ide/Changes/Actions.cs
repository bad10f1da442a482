using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Refactorings;
using AsmLsp.Core.Repairs;
using AsmLsp.Core.Text;

namespace AsmLsp.Ide.Changes;

/// <summary>What an action is.</summary>
public enum ActionKind
{
    /// <summary>A fix of a problem, in one place or in all of its kind.</summary>
    Fix,

    /// <summary>All certain fixes of the file; editors run it on saving when asked to.</summary>
    FixAll,

    /// <summary>A refactoring that gives something a name of its own.</summary>
    Extract,

    /// <summary>A refactoring that puts what a name means in place of the name.</summary>
    Inline,

    /// <summary>A refactoring that says the same in another way.</summary>
    Rewrite,
}

/// <summary>A fix or refactoring that can be chosen: what it does, what it answers, and its edits when they are wanted.</summary>
/// <param name="Title">As the menu shows it.</param>
/// <param name="Kind">What it is.</param>
/// <param name="Problem">What it answers, or null.</param>
/// <param name="IsCertain">Whether nothing else can be meant.</param>
/// <param name="Key">Names it among those of the file, so that it can be found again.</param>
/// <param name="Changes">Works out the edits; none where a refactoring turns out not to do what its title says.</param>
public sealed record OfferedAction(
    string Title,
    ActionKind Kind,
    Problem? Problem,
    bool IsCertain,
    string Key,
    Func<IEnumerable<FileEdits>> Changes
)
{
    /// <summary>Whether it is a refactoring.</summary>
    public bool IsRefactoring => Kind is ActionKind.Extract or ActionKind.Inline or ActionKind.Rewrite;

    /// <summary>Whether it is a certain fix, which a person may make without a look.</summary>
    public bool IsCertainFix => IsCertain && Kind == ActionKind.Fix;
}

/// <summary>The fixes for some lines of a file.</summary>
public static class Actions
{
    private const string AllKey = "all";

    /// <summary>Single fixes, certain ones first; then each kind in the whole file; then everything that is certain.</summary>
    /// <param name="file">The file.</param>
    /// <param name="first">The first line, from 0.</param>
    /// <param name="last">The last line.</param>
    /// <param name="wants">Whether a kind of action is wanted.</param>
    public static List<OfferedAction> For(ProgramFile file, int first, int last, Func<ActionKind, bool> wants)
    {
        var single = new List<OfferedAction>();
        var kinds = new List<ProblemKind>();
        if (wants(ActionKind.Fix))
        {
            foreach (Problem problem in file.EachProblem)
            {
                if (problem.Place.Line < first || problem.Place.Line > last || !FixFinder.Knows(problem.Kind))
                {
                    continue;
                }

                foreach (Fix fix in FixFinder.For(file.Analysis, problem))
                {
                    string key = string.Create(
                        CultureInfo.InvariantCulture,
                        $"one {problem.Code} {problem.Place.Line} {problem.Place.Columns.Start} {fix.Title}"
                    );
                    single.Add(
                        new(
                            fix.Title,
                            ActionKind.Fix,
                            problem,
                            fix.Certainty == Certainty.Certain,
                            key,
                            () => [new(fix.File, [.. fix.Edits])]
                        )
                    );
                    if (fix.Certainty == Certainty.Certain && fix.File == file.Source && !kinds.Contains(problem.Kind))
                    {
                        kinds.Add(problem.Kind);
                    }
                }
            }
        }

        // One problem may carry the same fix as its neighbor: the menu shows it once.
        var offered = single
            .OrderBy(action => action.IsCertain ? 0 : 1)
            .DistinctBy(action => (action.Title, action.Problem!.Place.Line))
            .ToList();
        foreach (ProblemKind kind in kinds)
        {
            int count = file.EachProblem.Count(problem => problem.Kind == kind);
            if (count > 1)
            {
                offered.Add(OfKind(file, kind, count));
            }
        }

        if (wants(ActionKind.FixAll))
        {
            offered.Add(OfFile(file));
        }

        return offered;
    }

    /// <summary>The fix or refactoring with a key in a file as it is now, or null where it is not offered any more.</summary>
    public static OfferedAction? Find(ProgramFile file, string key)
    {
        if (RefactoringActions.Find(file, key) is { } refactoring)
        {
            return refactoring;
        }

        string[] parts = key.Split(' ', 5);
        return parts switch
        {
            [AllKey] => OfFile(file),
            ["kind", var code] when Catalogue.Find(code) is { } kind => OfKind(
                file,
                kind,
                file.EachProblem.Count(problem => problem.Kind == kind)
            ),
            ["one", _, var line, _, _]
                when int.TryParse(line, NumberStyles.None, CultureInfo.InvariantCulture, out int at) => For(
                    file,
                    at,
                    at,
                    kind => kind == ActionKind.Fix
                )
                .FirstOrDefault(action => action.Key == key),
            _ => null,
        };
    }

    private static OfferedAction OfKind(ProgramFile file, ProblemKind kind, int count) =>
        new(
            string.Create(
                CultureInfo.InvariantCulture,
                $"Fix all {count} places of this kind in {file.Source.ShortName}"
            ),
            ActionKind.Fix,
            file.EachProblem.FirstOrDefault(problem => problem.Kind == kind),
            true,
            "kind " + kind.Code,
            () =>
                [
                    new(
                        file.Source,
                        [.. TextDifference.Between(file.Text, FixAll.Run(file.Analysis, file.Source, kind).NewText)]
                    ),
                ]
        );

    private static OfferedAction OfFile(ProgramFile file) =>
        new(
            $"Make every certain fix in {file.Source.ShortName}",
            ActionKind.FixAll,
            null,
            true,
            AllKey,
            () =>
                [
                    new(
                        file.Source,
                        [.. TextDifference.Between(file.Text, FixAll.Run(file.Analysis, file.Source).NewText)]
                    ),
                ]
        );
}
