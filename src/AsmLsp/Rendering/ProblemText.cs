using System.Globalization;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Text;

namespace AsmLsp.Rendering;

/// <summary>Problems as lines of text: place, weight, message, code.</summary>
internal static class ProblemText
{
    /// <summary>One problem in one line, with the file as the person named it.</summary>
    public static string Line(Problem problem, Func<string, string> shown) =>
        $"{Place(problem, shown)}: {Word(problem.Severity)}: {problem.Message} [{problem.Code}]";

    /// <summary>A place as editors and terminals open it: file, line and column.</summary>
    private static string Place(Problem problem, Func<string, string> shown) =>
        string.Create(
            CultureInfo.InvariantCulture,
            $"{shown(problem.Place.File.Name)}:{problem.Place.Line + 1}:{problem.Place.Columns.Start + 1}"
        );

    /// <summary>The weight in a word.</summary>
    public static string Word(Severity severity) =>
        severity switch
        {
            Severity.Error => "error",
            Severity.Warning => "warning",
            _ => "note",
        };

    /// <summary>Writes problems, errors first, with the line that each is about and a mark under the place.</summary>
    public static void Write(TextWriter output, IEnumerable<Problem> problems, Func<string, string> shown)
    {
        foreach (Problem problem in problems.OrderBy(static p => Rank(p.Severity)))
        {
            output.Write($"{Place(problem, shown)}: ");
            VisibleWriter.WriteSeverity(output, problem.Severity);
            output.WriteLine($": {problem.Message} [{problem.Code}]");
            string source = problem.Place.File.Text[problem.Place.Line].Text;
            if (source.Trim().Length == 0 || source.Length > 200)
                continue;
            int start = Math.Min(problem.Place.Columns.Start, source.Length);
            int length = Math.Max(1, Math.Min(problem.Place.Columns.Length, source.Length - start));
            // Counted as they are shown, so that the mark is under its place.
            string before = VisibleText.Of(source[..start]),
                marked = VisibleText.Of(source.Substring(start, Math.Min(length, source.Length - start)));
            output.WriteLine("    " + source.Replace('\t', ' '));
            output.WriteLine("    " + new string(' ', before.Length) + new string('^', Math.Max(1, marked.Length)));
        }
    }

    private static int Rank(Severity severity) =>
        severity switch
        {
            Severity.Error => 0,
            Severity.Warning => 1,
            _ => 2,
        };

    /// <summary>"2 errors, 1 warning" and the like; "no problems" where there is none.</summary>
    public static string Count(IReadOnlyCollection<Problem> problems)
    {
        var parts = new List<string>();
        Add(Severity.Error, "error", "errors");
        Add(Severity.Warning, "warning", "warnings");
        Add(Severity.Information, "note", "notes");
        return parts.Count == 0 ? "no problems" : string.Join(", ", parts);

        void Add(Severity severity, string one, string many)
        {
            int count = problems.Count(p => p.Severity == severity);
            if (count > 0)
                parts.Add(string.Create(CultureInfo.InvariantCulture, $"{count} {(count == 1 ? one : many)}"));
        }
    }

    /// <summary>How many problems were switched off, and how; null where none was.</summary>
    public static string? Ignored(IReadOnlyCollection<ProblemReport> reports)
    {
        int byComment = reports.Sum(static r => r.ByComment.Length),
            bySetting = reports.Sum(static r => r.BySetting.Length);
        if (byComment + bySetting == 0)
            return null;
        var parts = new List<string>(2);
        if (byComment > 0)
            parts.Add(string.Create(CultureInfo.InvariantCulture, $"{byComment} by comments"));
        if (bySetting > 0)
            parts.Add(string.Create(CultureInfo.InvariantCulture, $"{bySetting} by relist.json"));
        return $"not shown: {string.Join(", ", parts)}";
    }
}
