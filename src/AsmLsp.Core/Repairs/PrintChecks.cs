using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Repairs;

/// <summary>
/// Problems that are about the printed text rather than about the assembly: page header or footer lines, broken lines and
/// comments, characters of typesetting. Linear in the number of lines.
/// </summary>
public static class PrintChecks
{
    /// <summary>
    /// All checks, in the order in which they look: a line belongs to the first that explains it. The order is that of the
    /// fixes, but for those that say otherwise.
    /// </summary>
    internal static ImmutableArray<PrintCheck> All { get; } =
    [.. FixList.All.OfType<PrintCheck>().OrderBy(static check => check.Turn)];

    /// <summary>The problems of one file of a program, by line.</summary>
    public static ImmutableArray<Problem> Find(ProgramAnalysis program, SourceFile file)
    {
        List<Finding> findings = Look(program, file);
        var problems = new Problem[findings.Count];
        for (int i = 0; i < problems.Length; i++)
            problems[i] = findings[i].Problem;
        Array.Sort(problems, ByPlace);
        return ImmutableArray.Create(problems);
    }

    internal static int ByPlace(Problem a, Problem b)
    {
        int line = a.Place.Line.CompareTo(b.Place.Line);
        if (line != 0)
            return line;
        int column = a.Place.Columns.Start.CompareTo(b.Place.Columns.Start);
        return column != 0 ? column : a.Severity.CompareTo(b.Severity);
    }

    internal static List<Finding> Look(ProgramAnalysis program, SourceFile file)
    {
        ArgumentNullException.ThrowIfNull(program);
        ArgumentNullException.ThrowIfNull(file);
        var view = new CheckedFile(program, file);
        foreach (PrintCheck check in All)
            check.Find(view);
        return view.Findings;
    }
}
