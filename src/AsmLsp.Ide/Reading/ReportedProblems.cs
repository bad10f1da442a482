using System.Collections.Immutable;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Text;

namespace AsmLsp.Ide.Reading;

/// <summary>Lines that a choice leaves out of the program.</summary>
/// <param name="FirstLine">The first line, from 0.</param>
/// <param name="LastLine">The last line.</param>
/// <param name="Message">What decides it, for people.</param>
public readonly record struct LeftOutLines(int FirstLine, int LastLine, string Message);

/// <summary>What an editor shows of the problems of a file.</summary>
public static class ReportedProblems
{
    /// <summary>At most so many are shown for one file; errors go before the rest.</summary>
    public const int Most = 20_000;

    /// <summary>The problems of a file, in order; where there are too many, errors first.</summary>
    public static ImmutableArray<Problem> Of(ProgramModel program, SourceFile file)
    {
        ImmutableArray<Problem> problems = program.ProblemsOf(file);
        return problems.Length <= Most
            ? problems
            :
            [
                .. problems
                    .Where(problem => problem.Severity == Severity.Error)
                    .Concat(problems.Where(problem => problem.Severity != Severity.Error))
                    .Take(Most),
            ];
    }

    /// <summary>The lines of a file that choices leave out, to be shown gray.</summary>
    public static IEnumerable<LeftOutLines> LeftOut(ProgramModel program, SourceFile file) =>
        program
            .Analysis.LeftOut.Where(part => part.File == file && part.LastLine < file.Text.LineCount)
            .Select(part => new LeftOutLines(part.FirstLine, part.LastLine, $"Left out: {part.Reason}."));
}
