using AsmLsp.Core.Assembly;
using AsmLsp.Core.Flow.Traps;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Tests.Flow.Traps;

/// <summary>Small programs for the checks of traps, and what they find.</summary>
internal static class TrapPrograms
{
    public const string Head84 =
        " list p=16f84a\n #include <p16f84a.inc>\n __config _CP_OFF & _WDT_OFF & _XT_OSC\n org 0\n";
    public const string Head628 =
        " list p=16f628a\n #include <p16f628a.inc>\n __config _CP_OFF & _WDT_OFF & _LVP_OFF & _MCLRE_ON & _XT_OSC\n org 0\n";
    public const string Head877 =
        " list p=16f877a\n #include <p16f877a.inc>\n __config _CP_OFF & _WDT_OFF & _LVP_OFF & _XT_OSC\n org 0\n";

    // The head takes four lines.
    public static string[] Found(string source, params (string Name, string Text)[] files) =>
        [.. Report(source, files).Select(static p => $"{p.Place.Line + 1} {p.Code}")];

    public static Problem[] Report(string source, params (string Name, string Text)[] files)
    {
        ProgramAnalysis program = Assembly.Check.Assemble(source, AssemblyOptions.Default, files);
        Assert.True(!program.HasErrors, string.Join("\n", program.Problems.Select(static p => p.Message)));
        return [.. TrapProblems.Find(program)];
    }

    public static void Finds(string expected, string source) => Assert.Contains(expected, Found(source));

    public static void Spares(string code, string source) => Assert.DoesNotContain(Report(source), p => p.Code == code);
}
