using System.Globalization;
using System.Runtime.InteropServices;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Repairs;

/// <summary>
/// Says once for a file what many of its lines have in common and what the build takes as it is meant: a habit of the
/// author's, not a fault. The repairs still know every place.
/// </summary>
internal static class RepeatedProblems
{
    // Fewer instructions in column 1 than this are slips: a blank that was lost, a line that broke.
    private const int HabitLines = 8;

    // What lines have in common, and the words in which they must agree.
    private readonly record struct ProblemGroup(string Habit, string First = "", string Second = "");

    // As many as fit into a line.
    private const int MostNames = 8;

    /// <summary>The problems with each habit reported once, at its first line.</summary>
    public static List<Problem> Gathered(List<Problem> problems, bool fadesUnused)
    {
        var groups = new Dictionary<ProblemGroup, (int At, int Count)>();
        var unused = new List<string>();
        int instructions = problems.Count(static p => IsColumnOne(p, "an instruction"));
        var kept = new List<Problem>(problems.Count);
        foreach (Problem problem in problems)
        {
            if (problem.Kind == Catalogue.UnusedName)
                unused.Add(problem.Arguments[0]);
            if ((fadesUnused && problem.Kind.IsUnused) || GroupOf(problem, instructions) is not { } group)
            {
                kept.Add(problem);
                continue;
            }

            ref (int At, int Count) known = ref CollectionsMarshal.GetValueRefOrAddDefault(
                groups,
                group,
                out bool isKnown
            );
            known = isKnown ? known with { Count = known.Count + 1 } : (kept.Count, 1);
            if (!isKnown)
                kept.Add(problem with { Severity = Severity.Information });
        }

        foreach ((ProblemGroup group, (int at, int count)) in groups)
            if (count > 1)
                kept[at] = kept[at] with { Message = InWords(group.Habit, kept[at], count, unused) };
        return kept;
    }

    private static ProblemGroup? GroupOf(Problem problem, int instructions)
    {
        if (problem.Severity == Severity.Error)
            return null;
        if (IsColumnOne(problem, "a directive"))
            return new ProblemGroup("directives");
        if (IsColumnOne(problem, "an instruction"))
            return instructions >= HabitLines ? new ProblemGroup("instructions") : null;
        if (problem.Kind == Catalogue.LabelIndented)
            return IsPlain(problem) ? new ProblemGroup("names") : null;
        if (problem.Kind == Catalogue.DestinationLeftOut)
            return new ProblemGroup("destinations");
        // One for each part of the program that never runs.
        if (problem.Kind == Catalogue.UnusedCode)
            return new ProblemGroup("code", problem.Arguments[0], problem.Arguments[1]);
        if (problem.Kind == Catalogue.UnusedName)
            return new ProblemGroup("unused");
        return problem.Kind == Catalogue.NameDiffersByCase
            ? new ProblemGroup("case", problem.Arguments[0], problem.Arguments[1])
            : null;
    }

    private static bool IsColumnOne(Problem problem, string what) =>
        problem.Kind == Catalogue.OperationNotIndented && problem.Arguments is [_, var of] && of == what;

    // A name that is given a value, a macro's name, or a label with its colon: nothing else can be meant.
    private static bool IsPlain(Problem problem)
    {
        LineSyntax line = LineSyntax.Of(problem.Place.File.Text[problem.Place.Line]);
        return line.LabelToken >= 0
            && line.Tokens[line.LabelToken].Start == problem.Place.Columns.Start
            && (
                line.ColonToken >= 0 || line.OperationKind == OperationKind.Assignment || line.Keyword == Keyword.Macro
            );
    }

    private static string InWords(string habit, Problem first, int count, List<string> unused)
    {
        if (first.Kind == Catalogue.UnusedCode)
            return first.Message;
        string number = count.ToString(CultureInfo.InvariantCulture);
        return habit switch
        {
            "directives" => $"{number} directives start in column 1, here the first. 'relist tidy' indents them.",
            "instructions" => $"{number} instructions start in column 1, here the first. 'relist tidy' indents them.",
            "unused" => $"Nothing uses {number} names: {Listed(unused)}.",
            "names" =>
                $"{number} names that are given a value or end with a colon are indented, here the first. 'relist tidy' moves them to column 1.",
            "destinations" =>
                $"{number} instructions do not say where the result goes, here the first: it goes back to the register. Write ',f' to say so.",
            _ => $"{first.Message} This occurs {number} times, here first.",
        };
    }

    private static string Listed(List<string> names) =>
        string.Join(", ", names.Take(MostNames)) + (names.Count > MostNames ? " ..." : "");
}
