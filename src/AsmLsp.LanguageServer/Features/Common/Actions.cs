using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Repairs;
using AsmLsp.Core.Text;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features.Common;

/// <summary>A repair or refactoring that can be chosen: what it does, what it answers, and its edits when they are wanted.</summary>
/// <param name="Title">As the menu shows it.</param>
/// <param name="Kind">The kind of code action.</param>
/// <param name="Problem">What it answers, or null.</param>
/// <param name="IsCertain">Whether nothing else can be meant.</param>
/// <param name="Key">Names it among those of the file, so that it can be found again.</param>
/// <param name="Changes">Works out the edits.</param>
internal sealed record OfferedAction(
    string Title,
    string Kind,
    Problem? Problem,
    bool IsCertain,
    string Key,
    Func<IEnumerable<(SourceFile File, IEnumerable<TextEdit> Edits)>> Changes
);

/// <summary>The repairs for some lines of a file.</summary>
internal static class Actions
{
    /// <summary>The kind of 'all certain repairs of the file'; editors run it on saving when told to.</summary>
    public const string FixAllKind = CodeActionKind.SourceFixAll + ".relist";

    private const string AllKey = "all";

    /// <summary>Single repairs, certain ones first; then each kind in the whole file; then everything that is certain.</summary>
    /// <param name="view">The file.</param>
    /// <param name="first">The first line, from 0.</param>
    /// <param name="last">The last line.</param>
    /// <param name="wants">Whether a kind of code action is wanted.</param>
    public static List<OfferedAction> For(FileView view, int first, int last, Func<string, bool> wants)
    {
        var single = new List<OfferedAction>();
        var kinds = new List<ProblemKind>();
        if (wants(CodeActionKind.QuickFix))
        {
            foreach (Problem problem in view.EachProblem)
            {
                if (problem.Place.Line < first || problem.Place.Line > last || !FixFinder.Knows(problem.Kind))
                {
                    continue;
                }

                foreach (Fix fix in FixFinder.For(view.Analysis, problem))
                {
                    string key = string.Create(
                        CultureInfo.InvariantCulture,
                        $"one {problem.Code} {problem.Place.Line} {problem.Place.Columns.Start} {fix.Title}"
                    );
                    single.Add(
                        new(
                            fix.Title,
                            CodeActionKind.QuickFix,
                            problem,
                            fix.Certainty == Certainty.Certain,
                            key,
                            () => [(fix.File, fix.Edits)]
                        )
                    );
                    if (fix.Certainty == Certainty.Certain && fix.File == view.File && !kinds.Contains(problem.Kind))
                    {
                        kinds.Add(problem.Kind);
                    }
                }
            }
        }

        // One problem may carry the same repair as its neighbour: the menu shows it once.
        var offered = single
            .OrderBy(action => action.IsCertain ? 0 : 1)
            .DistinctBy(action => (action.Title, action.Problem!.Place.Line))
            .ToList();
        foreach (ProblemKind kind in kinds)
        {
            int count = view.EachProblem.Count(problem => problem.Kind == kind);
            if (count > 1)
            {
                offered.Add(OfKind(view, kind, count));
            }
        }

        if (wants(FixAllKind))
        {
            offered.Add(OfFile(view));
        }

        return offered;
    }

    /// <summary>The repair with a key in a file as it is now, or null where it is not offered any more.</summary>
    public static OfferedAction? Find(FileView view, string key)
    {
        if (RefactoringActions.Find(view, key) is { } refactoring)
        {
            return refactoring;
        }

        string[] parts = key.Split(' ', 5);
        return parts switch
        {
            [AllKey] => OfFile(view),
            ["kind", var code] when Catalogue.Find(code) is { } kind => OfKind(
                view,
                kind,
                view.EachProblem.Count(problem => problem.Kind == kind)
            ),
            ["one", _, var line, _, _]
                when int.TryParse(line, NumberStyles.None, CultureInfo.InvariantCulture, out int at) => For(
                    view,
                    at,
                    at,
                    kind => kind == CodeActionKind.QuickFix
                )
                .FirstOrDefault(action => action.Key == key),
            _ => null,
        };
    }

    private static OfferedAction OfKind(FileView view, ProblemKind kind, int count) =>
        new(
            string.Create(
                CultureInfo.InvariantCulture,
                $"Repair all {count} places of this kind in {view.File.ShortName}"
            ),
            CodeActionKind.QuickFix,
            view.EachProblem.FirstOrDefault(problem => problem.Kind == kind),
            true,
            "kind " + kind.Code,
            () => [(view.File, Edits.Between(view.Text, FixAll.Run(view.Analysis, view.File, kind).NewText))]
        );

    private static OfferedAction OfFile(FileView view) =>
        new(
            $"Make every certain repair in {view.File.ShortName}",
            FixAllKind,
            null,
            true,
            AllKey,
            () => [(view.File, Edits.Between(view.Text, FixAll.Run(view.Analysis, view.File).NewText))]
        );
}
