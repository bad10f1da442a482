using System.Collections.Immutable;
using System.Runtime.CompilerServices;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Flow;
using AsmLsp.Core.Flow.Traps;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Repairs;

/// <summary>
/// All problems of a file as a person should see them: those of the assembly and those of the printed text, without
/// the assembly's complaints about lines that a problem of the text already explains.
/// </summary>
public static class ProgramProblems
{
    private static readonly ProblemKind[] NotInFragments =
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

    private static readonly ConditionalWeakTable<ProgramAnalysis, Lazy<ImmutableArray<Problem>>> Flows = [];

    /// <summary>
    /// The problems of one file of a program, by line and column, with those that following its ways proves; what is a habit
    /// of the author's is reported once.
    /// </summary>
    public static ImmutableArray<Problem> All(ProgramAnalysis program, SourceFile file) =>
        Gathered(Each(program, file));

    /// <summary>The same with every place of every problem, for the repairs.</summary>
    public static ImmutableArray<Problem> Each(ProgramAnalysis program, SourceFile file) => Parted(program, file).Shown;

    /// <summary>The problems of one file, and those that the author has switched off.</summary>
    public static ProblemReport Report(ProgramAnalysis program, SourceFile file)
    {
        ProblemReport report = Parted(program, file);
        return report with { Shown = Gathered(report.Shown) };
    }

    /// <summary>
    /// Problems with what many lines have in common reported once; unused lines and names each, where an editor fades them.
    /// </summary>
    public static ImmutableArray<Problem> Gathered(ImmutableArray<Problem> each, bool fadesUnused = false) =>
        [.. RepeatedProblems.Gathered([.. each], fadesUnused)];

    /// <summary>
    /// The problems of the source as it is written, without those of what the program does when it runs: recovery and
    /// repairs look at these, since the author's program is to come back as it was, faults included.
    /// </summary>
    public static ImmutableArray<Problem> OfSource(ProgramAnalysis program, SourceFile file) =>
        Merge(program, file, []);

    /// <summary>
    /// The problems of a file that is made to be included and is seen alone. Its names, its chip and its macros come from
    /// the program around it, and without a reset and callers no path through it is known.
    /// </summary>
    public static ImmutableArray<Problem> OfFragment(ProgramAnalysis program, SourceFile file) =>
        IgnoredProblems
            .Part(OfSource(program, file), program.Options.Ignore)
            .Shown.RemoveAll(static p => NotInFragments.Contains(p.Kind) || MayBeMacro(p));

    private static ProblemReport Parted(ProgramAnalysis program, SourceFile file)
    {
        ArgumentNullException.ThrowIfNull(program);
        return IgnoredProblems.Part(Merge(program, file, FlowOf(program)), program.Options.Ignore);
    }

    // An operation that is near to none that is known may be a macro of the program around the file; 'movlv' is a slip.
    private static bool MayBeMacro(Problem problem) =>
        problem.Kind == Catalogue.UnknownOperation && problem.Arguments is [_, ""];

    private static ImmutableArray<Problem> Merge(ProgramAnalysis program, SourceFile file, ImmutableArray<Problem> flow)
    {
        List<Finding> findings = PrintChecks.Look(program, file);
        var found = new List<Problem>(findings.Count + 16);
        var covered = new List<Problem>();
        Consequences? consequences = findings.Count > 0 ? new Consequences(findings) : null;
        foreach (Problem problem in program.Problems)
        {
            if (problem.Place.File != file)
                continue;
            if (consequences is null || !consequences.Cover(problem))
                found.Add(problem);
            else if (problem.Severity == Severity.Error)
                covered.Add(problem);
        }

        foreach (Finding finding in findings)
            found.Add(finding.Problem);
        // A file in curled quotes is not missing: its quotes are the error.
        found.RemoveAll(p =>
            p.Kind == Catalogue.IncludeMissing
            && findings.Exists(f =>
                f.Problem.Kind == Catalogue.TypographicCharacter
                && f.Problem.Severity == Severity.Error
                && f.Problem.Place.Line == p.Place.Line
            )
        );
        // What keeps the program from being built is never left out altogether.
        if (covered.Count > 0 && !found.Exists(static p => p.Severity == Severity.Error))
            found.AddRange(covered);
        foreach (Problem problem in flow)
            if (problem.Place.File == file)
                found.Add(problem);
        return OncePerPlace(findings.Count == 0 && flow.IsEmpty ? found : [.. found.Order(ByPlace)]);
    }

    // Stable, so that problems of one place keep the order in which they were found.
    private static Comparer<Problem> ByPlace { get; } = Comparer<Problem>.Create(PrintChecks.ByPlace);

    // Two problems of one kind on the same characters are one to a person.
    private static ImmutableArray<Problem> OncePerPlace(List<Problem> found)
    {
        var known = new HashSet<(ProblemKind, int, TextSpan)>(found.Count);
        found.RemoveAll(p => !known.Add((p.Kind, p.Place.Line, p.Place.Columns)));
        return [.. found];
    }

    // The ways of a program are followed once for all its files. With errors the words are not what the author meant, and
    // whatever is proven about them would only confuse.
    private static ImmutableArray<Problem> FlowOf(ProgramAnalysis program) =>
        program.HasErrors
            ? []
            : Flows
                .GetValue(
                    program,
                    static p => new Lazy<ImmutableArray<Problem>>(() =>
                        [.. FlowProblems.Find(p), .. TrapProblems.Find(p), .. ChipCautions.Find(p)]
                    )
                )
                .Value;

    private sealed class Consequences
    {
        private readonly Dictionary<int, List<Finding>> byLine = [];
        private readonly bool namesAfter;
        private readonly bool columns;

        public Consequences(List<Finding> findings)
        {
            foreach (Finding finding in findings)
            {
                namesAfter |= finding.Explains == Explains.NamesAfter;
                columns |= finding.Explains == Explains.Columns;
                if (finding.Explains is Explains.Nothing or Explains.Columns)
                    continue;
                for (int i = finding.FirstLine; i <= finding.LastLine; i++)
                {
                    if (!byLine.TryGetValue(i, out List<Finding>? list))
                        byLine.Add(i, list = new(1));
                    list.Add(finding);
                }
            }
        }

        public bool Cover(Problem problem)
        {
            if (namesAfter && (problem.Kind == Catalogue.UndefinedName || problem.Kind == Catalogue.BlockNotClosed))
                return true;
            if (
                columns
                && (
                    problem.Kind == Catalogue.LabelIndented
                    || (
                        problem.Kind == Catalogue.UnknownOperation
                        && LineShape.Of(problem.Place.File.Text[problem.Place.Line]).Has(LineTraits.LoneName)
                    )
                )
            )
                return true;
            // A label that a header's first word seems to define, met again where the name is really defined.
            if (
                problem.Kind == Catalogue.NameDefinedTwice
                && problem.Related.Length > 0
                && problem.Related[0].Place.File == problem.Place.File
                && byLine.TryGetValue(problem.Related[0].Place.Line, out List<Finding>? other)
                && other.Exists(f => f.Explains == Explains.WholeLine)
            )
                return true;
            if (!byLine.TryGetValue(problem.Place.Line, out List<Finding>? here))
                return false;
            foreach (Finding finding in here)
            {
                switch (finding.Explains)
                {
                    case Explains.WholeLine:
                        return true;
                    case Explains.Reading when IsAboutReading(problem.Kind):
                        return true;
                    case Explains.SameCharacters when problem.Place.Columns.Overlaps(finding.Problem.Place.Columns):
                        return true;
                    case Explains.NamesAfter:
                        return true;
                }
            }

            return false;
        }

        private static bool IsAboutReading(ProblemKind kind) =>
            kind == Catalogue.BadExpression
            || kind == Catalogue.UndefinedName
            || kind == Catalogue.UnclosedQuote
            || kind == Catalogue.TextWhereValue
            || kind == Catalogue.MissingOperand
            || kind == Catalogue.TextAfterOperands
            || kind == Catalogue.UnknownOperation
            || kind == Catalogue.NotAnOperation
            || kind == Catalogue.BadNumber
            || kind == Catalogue.BadName
            || kind == Catalogue.DestinationLeftOut;
    }
}
