using AsmLsp.Core.Assembly;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Repairs;

namespace AsmLsp.Core.Tests.Fixes;

/// <summary>A pasted program without its runs of blanks: its texts in quotes may have had some.</summary>
public class BlanksLostTests
{
    private const string Text = "dt \"OIL LOW\",0 ; seven letters";

    // A paste as a browser gives it: each line begins at its first letter.
    private static readonly string Paste = string.Join(
        '\n',
        "list p=16f84a",
        "include <p16f84a.inc>",
        "__config _XT_OSC & _WDT_OFF & _PWRTE_ON & _CP_OFF",
        "org 0",
        "goto start",
        "letters addwf PCL,f",
        Text,
        "start bsf STATUS,RP0",
        "clrf TRISB",
        "bcf STATUS,RP0",
        "movlw 2",
        "call letters",
        "movwf PORTB",
        "loop goto loop",
        "end",
        ""
    );

    [Fact]
    public void Text_of_a_paste_without_runs_of_blanks_is_in_doubt()
    {
        Assert.Contains("7 blanks-lost", FixCheck.ProblemsOf(Paste));
        FixCheck.Offers(
            Catalogue.BlanksLost,
            Certainty.Certain,
            Paste.Replace(Text, "$0" + Text, StringComparison.Ordinal),
            Paste.Replace(Text, Text + " ;? are there more blanks in this text?", StringComparison.Ordinal)
        );
    }

    [Fact]
    public void The_doubt_is_kept_as_a_mark_where_the_columns_are_made_again()
    {
        string fixedAll = FixCheck.FixedAll(Paste);
        Assert.Contains(
            "\"OIL LOW\",0 ; seven letters ;? are there more blanks in this text?",
            fixedAll,
            StringComparison.Ordinal
        );
        Assert.Contains("7 open-doubt", FixCheck.ProblemsOf(fixedAll));
        ProgramAnalysis program = FixCheck.Assemble(Paste);
        Assert.Contains(
            ";? are there more blanks in this text?",
            Tidy.Run(program, program.Root).NewText.ToString(),
            StringComparison.Ordinal
        );
    }

    [Theory]
    [InlineData("dt \"OIL LOW\",0 ; seven letters", "dt \"OILLOW\",0 ; six letters")]
    [InlineData("movlw 2", "movlw ' '")]
    [InlineData("letters addwf", "letters  addwf")]
    [InlineData("\nclrf TRISB", "\n clrf TRISB")]
    [InlineData("seven letters", "seven letters ;? is this right?")]
    public void Nothing_is_asked_where_nothing_shows_it_or_the_line_has_a_doubt(string old, string by)
    {
        string source = Paste.Replace(old, by, StringComparison.Ordinal);
        Assert.Equal(
            old == "movlw 2" ? ["7 blanks-lost"] : [],
            FixCheck.ProblemsOf(source).Where(static p => p.EndsWith("blanks-lost", StringComparison.Ordinal))
        );
    }
}
