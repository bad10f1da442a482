using System.Globalization;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Repairs;
using AsmLsp.Core.Text;

namespace AsmLsp.Ide.Changes;

/// <summary>A doubt whose mark says where its line was printed.</summary>
/// <param name="Problem">The doubt as a problem of its line.</param>
/// <param name="Title">What a menu offers beside the fixes: to show the place.</param>
public sealed record PrintedDoubt(Problem Problem, string Title)
{
    /// <summary>The doubts on some lines of a file, both ends included.</summary>
    public static IEnumerable<PrintedDoubt> On(ProgramFile file, int first, int last)
    {
        foreach (Problem problem in file.Problems)
        {
            int line = problem.Place.Line;
            if (
                problem.Kind == Catalogue.OpenDoubt
                && line >= first
                && line <= last
                && DoubtMark.Read(file.Text[line].Text) is { FirstPlace: PrintedPlace } doubt
            )
            {
                yield return new(
                    problem,
                    string.Create(CultureInfo.InvariantCulture, $"Show where it was printed: {doubt.Place}")
                );
            }
        }
    }
}
