using System.Collections.Immutable;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Problems;

/// <summary>Problems of a file: those to show, and those that the author has switched off.</summary>
/// <param name="Shown">The problems to show.</param>
/// <param name="ByComment">Those that a comment on their line switches off.</param>
/// <param name="BySetting">Those whose code a setting or the project file switches off.</param>
public sealed record ProblemReport(
    ImmutableArray<Problem> Shown,
    ImmutableArray<Problem> ByComment,
    ImmutableArray<Problem> BySetting
);

/// <summary>
/// Switches problems off by their code: for a whole program (a setting, the project file), or on one line by a comment such as
/// <c>; relist: ignore wrong-bank</c>. Errors and open doubts cannot be switched off.
/// </summary>
public static class IgnoredProblems
{
    private const string Mark = "relist:",
        Word = "ignore";

    /// <summary>Codes as <see cref="Assembly.AssemblyOptions.Ignore"/> holds them; null where there is none.</summary>
    public static string? Join(IEnumerable<string> codes)
    {
        ArgumentNullException.ThrowIfNull(codes);
        string joined = string.Join(
            '\n',
            codes.Select(static c => c.Trim()).Where(static c => c.Length > 0).Distinct()
        );
        return joined.Length == 0 ? null : joined;
    }

    /// <summary>Whether a code can be switched off: it is one of the catalogue, and no error and no open doubt.</summary>
    public static bool MayIgnore(string code) =>
        Catalogue.Find(code.Trim()) is { } kind && MayIgnore(kind, kind.Severity);

    /// <summary>Parts the problems of a file.</summary>
    public static ProblemReport Part(ImmutableArray<Problem> problems, string? ignoredCodes)
    {
        string[] codes = ignoredCodes?.Split('\n') ?? [];
        ImmutableArray<Problem>.Builder? shown = null,
            byComment = null,
            bySetting = null;
        for (int i = 0; i < problems.Length; i++)
        {
            Problem problem = problems[i];
            bool isListed = codes.Length > 0 && Array.IndexOf(codes, problem.Code) >= 0,
                isIgnored = MayIgnore(problem.Kind, problem.Severity) && (isListed || IsIgnoredOnLine(problem));
            if (isIgnored && shown is null)
            {
                shown = ImmutableArray.CreateBuilder<Problem>(problems.Length);
                shown.AddRange(problems, i);
            }

            if (!isIgnored)
                shown?.Add(problem);
            else if (isListed)
                (bySetting ??= ImmutableArray.CreateBuilder<Problem>()).Add(problem);
            else
                (byComment ??= ImmutableArray.CreateBuilder<Problem>()).Add(problem);
        }

        return new ProblemReport(
            shown?.ToImmutable() ?? problems,
            byComment?.ToImmutable() ?? [],
            bySetting?.ToImmutable() ?? []
        );
    }

    private static bool MayIgnore(ProblemKind kind, Severity severity) =>
        severity != Severity.Error && kind.Severity != Severity.Error && kind != Catalogue.OpenDoubt;

    private static bool IsIgnoredOnLine(Problem problem)
    {
        Text.TextLine line = problem.Place.File.Text[problem.Place.Line];
        return line.Text.Contains(Mark, StringComparison.OrdinalIgnoreCase)
            && LineSyntax.Of(line).Comment is { } comment
            && Ignores(comment, problem.Code);
    }

    // '; relist: ignore CODE, CODE', with whatever else the author says in the comment.
    private static bool Ignores(string comment, string code)
    {
        int at = comment.IndexOf(Mark, StringComparison.OrdinalIgnoreCase);
        if (at < 0)
            return false;
        string[] words = comment[(at + Mark.Length)..]
            .Split([' ', '\t', ',', ';'], StringSplitOptions.RemoveEmptyEntries);
        return words.Length > 1
            && words[0].Equals(Word, StringComparison.OrdinalIgnoreCase)
            && Array.FindIndex(words, 1, w => w.Equals(code, StringComparison.OrdinalIgnoreCase)) > 0;
    }
}
