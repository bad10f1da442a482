using AsmLsp.Core.Assembly;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Repairs;

namespace AsmLsp.Core.Tests.Problems;

/// <summary>Problems that the author switches off, on a line or for the whole program.</summary>
public class IgnoredProblemsTests
{
    private const string Head = " list p=16f84a\n include <p16f84a.inc>\n __config 0x3ff1\n org 0\n";

    private static ProblemReport Report(string source, string? ignore = null)
    {
        ProgramAnalysis program = Tests.Assembly.Check.Assemble(
            Head + source,
            new AssemblyOptions { Ignore = ignore },
            []
        );
        return ProgramProblems.Report(program, program.Root);
    }

    private static string[] Codes(IEnumerable<Problem> problems) => [.. problems.Select(static p => p.Code)];

    [Theory]
    [InlineData("; relist: ignore wrong-bank")]
    [InlineData("; Relist: Ignore WRONG-BANK")]
    [InlineData(";relist:ignore value-lost, wrong-bank")]
    [InlineData("; the port is meant (relist: ignore value-lost wrong-bank; see the manual)")]
    public void A_comment_switches_a_code_off_on_its_line(string comment)
    {
        ProblemReport report = Report($" movlw 0\n movwf TRISB {comment}\n movwf TRISA\n goto $\n end\n");
        Assert.Equal(["wrong-bank"], Codes(report.Shown));
        Assert.Equal(["wrong-bank"], Codes(report.ByComment));
        Assert.Empty(report.BySetting);
        Assert.Equal(6, Assert.Single(report.Shown).Place.Line);
    }

    [Theory]
    [InlineData("; relist: ignore")]
    [InlineData("; relist: ignore value-lost")]
    [InlineData("; ignore wrong-bank")]
    [InlineData("; relist: wrong-bank")]
    [InlineData("; relist: ignore wrong-banks")]
    public void A_comment_without_the_code_switches_nothing_off(string comment) =>
        Assert.Equal(["wrong-bank"], Codes(Report($" movlw 0\n movwf TRISB {comment}\n goto $\n end\n").Shown));

    [Fact]
    public void A_code_of_the_settings_is_off_on_all_lines()
    {
        ProblemReport report = Report(
            " movlw 0\n movwf TRISB\n movwf TRISA ; relist: ignore wrong-bank\n goto $\n nop\nold nop\n end\n",
            IgnoredProblems.Join(["wrong-bank", " ", "unused-name"])
        );
        Assert.Equal(["unused-code"], Codes(report.Shown).Where(static c => c != "runs-off-the-end"));
        Assert.Equal(["wrong-bank", "wrong-bank", "unused-name"], Codes(report.BySetting).OrderDescending());
        Assert.Empty(report.ByComment);
    }

    [Fact]
    public void Errors_and_open_doubts_are_always_shown()
    {
        ProblemReport report = Report(
            " movlw nowhere ; relist: ignore undefined-name\n nop ;? relist: ignore open-doubt\n goto $\n end\n",
            IgnoredProblems.Join(["undefined-name", "open-doubt"])
        );
        Assert.Equal(["open-doubt", "undefined-name"], Codes(report.Shown).Order(StringComparer.Ordinal));
        Assert.Empty(report.ByComment);
        Assert.Empty(report.BySetting);
    }

    [Theory]
    [InlineData("wrong-bank", true)]
    [InlineData("unused-name", true)]
    [InlineData("undefined-name", false)]
    [InlineData("open-doubt", false)]
    [InlineData("no-such-code", false)]
    public void Only_warnings_and_notes_may_be_switched_off(string code, bool may) =>
        Assert.Equal(may, IgnoredProblems.MayIgnore(code));

    [Fact]
    public void Names_that_nothing_uses_are_one_note_with_their_names()
    {
        ProblemReport report = Report("start goto start\na1 equ 1\na2 equ 2\n end\n");
        Assert.Equal("Nothing uses 2 names: a1, a2.", Assert.Single(report.Shown).Message);
    }

    [Theory]
    [InlineData("start goto start\n end\n")]
    [InlineData(" cblock 0x0C\nx\n endc\nstart clrf x\n goto start\n end\n")]
    [InlineData("x equ 1\n if x\nstart goto start\n endif\n end\n")]
    [InlineData("x equ 1\n#define y x\nstart movlw y\n goto start\n end\n")]
    public void Names_that_something_uses_are_left_alone(string source) =>
        Assert.DoesNotContain("unused-name", Codes(Report(source).Shown));
}
