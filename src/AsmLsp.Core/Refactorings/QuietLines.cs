using System.Runtime.CompilerServices;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Refactorings;

/// <summary>Distinguishes lines without error, warning or open doubt from the others.</summary>
internal sealed class QuietLines
{
    private static readonly ConditionalWeakTable<ProgramAnalysis, QuietLines> Known = [];

    private readonly HashSet<(SourceFile, int)> loud = [];

    private QuietLines(ProgramAnalysis program)
    {
        foreach (Problem problem in program.Problems)
        {
            // A number that its comment calls decimal is a doubt. The last two are reported at lines that they are not about.
            if (
                (problem.Severity is Severity.Information && problem.Kind != Catalogue.LooksDecimal)
                || problem.Kind == Catalogue.NoConfiguration
                || problem.Kind == Catalogue.EndMissing
            )
                continue;
            loud.Add((problem.Place.File, problem.Place.Line));
        }
    }

    public static QuietLines Of(ProgramAnalysis program) => Known.GetValue(program, static p => new QuietLines(p));

    public bool IsQuiet(SourceFile file, int line) =>
        !loud.Contains((file, line)) && DoubtMark.Find(file.Text[line].Text) is null;
}
