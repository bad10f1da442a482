using AsmLsp.Core.Recovery;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Tests.Recovery.Document;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Tests.Recovery.Audit;

/// <summary>Pastes in which line ends were lost, or whose two columns were copied row by row: nothing that makes a word disappears without a doubt.</summary>
public class JoinedRowsTests
{
    private const string Mill = """
        ; water mill, the gate follows the float
                list p=16f84a
                include <p16f84a.inc>
                __config 0x3FF1
        level   equ 0x0C
                org 0
        start   bsf STATUS,RP0  ; bank of the directions
                bcf TRISB,3     ; gate is an output
                bcf STATUS,RP0  ; back again
        wait    movf PORTA,w    ; read the float
                andlw 7
                movwf level     ; keep it
                sublw 4         ; high enough?
                btfss STATUS,C  ; no: wait
                goto wait
                call open       ; let it out
                goto wait
        open    bsf PORTB,3     ; gate up
                movlw 20        ; for a while
                movwf level
        down    decfsz level,f  ; one less
                goto down
                bcf PORTB,3     ; gate down
                return
                end
        """;

    private static string[] Lines => Mill.ReplaceLineEndings("\n").Split('\n');

    private static RecoveryResult Recover(string text) => PasteRecovery.Run(SourceText.From(text));

    private static RecoveryResult With(string line, string joined) =>
        Recover(Mill.ReplaceLineEndings("\n").Replace(line, joined, StringComparison.Ordinal));

    [Theory]
    [InlineData(
        "; bank of the directions\n        bcf TRISB,3     ; gate is an output",
        "; bank of the directions bcf TRISB,3 ; gate is an output"
    )]
    [InlineData(
        "; bank of the directions\n        bcf TRISB,3     ; gate",
        "; bank of the directionsbcf TRISB,3     ; gate"
    )]
    [InlineData("; keep it\n        sublw 4         ; high", "; keep it sublw 4 ; high")]
    [InlineData("; keep it\n        sublw 4         ; high enough?", "; keep it. sublw\t4")]
    [InlineData("; keep it\n        sublw 4         ; high enough?", "; keep it.sublw 4")]
    [InlineData("; back again\nwait    movf PORTA,w    ; read the float", "; back again wait movf PORTA,w")]
    [InlineData(
        "; no: wait\n        goto wait\n        call open       ; let it out\n        goto wait\n",
        "; no: wait goto wait\n        call open ; let it out goto\twait\n"
    )]
    [InlineData("; for a while\n        movwf level", "; for a while movwf  level")]
    [InlineData("; gate down\n        return", "; gate down return ; done")]
    public void Statement_that_came_into_a_comment_is_doubted(string apart, string joined)
    {
        RecoveryResult result = With(apart, joined);
        Assert.NotEqual(PrintedPages.Words(Recover(Mill)), PrintedPages.Words(result));
        Assert.Contains(
            PrintedPages.DoubtsOf(result),
            e => e.Code == DocumentCodes.CodeInComment || e.Message.Contains("goto", StringComparison.Ordinal)
        );
    }

    [Fact]
    public void Directive_that_came_into_a_comment_is_doubted() =>
        Assert.Contains(
            PrintedPages.DoubtsOf(With("follows the float\n        list p=16f84a", "follows the float list p=16f84a")),
            static e => e.Code == DocumentCodes.CodeInComment
        );

    [Theory]
    [InlineData("; keep it", "; level = 5; w = 3Ch; more")]
    [InlineData("; keep it", "; then call open, and goto wait again")]
    [InlineData("        andlw 7\n", "; andlw 3 ; was too small\n        andlw 7\n")]
    [InlineData("        andlw 7\n", ";lower  andlw  3\n        andlw 7\n")]
    [InlineData("; keep it", "; see the sheet; the float moves slowly; so wait")]
    public void Remark_about_code_is_none(string before, string after)
    {
        RecoveryResult result = With(before, after);
        Assert.True(result.IsClean, string.Join('\n', PrintedPages.DoubtsOf(result)));
    }

    [Fact]
    public void Rows_of_two_columns_copied_across_are_all_doubted()
    {
        string[] rows = Lines;
        int half = (rows.Length + 1) / 2;
        string text = string.Join(
            '\n',
            rows.Take(half).Select((l, i) => half + i < rows.Length ? $"{l, -50}{rows[half + i]}" : l)
        );
        AssertIsDoubtedNearlyEverywhere(Recover(text));
    }

    [Fact]
    public void Rows_of_two_columns_copied_in_turn_are_all_doubted()
    {
        string[] rows =
        [
            .. Lines,
            .. Lines.Skip(6).Select(static l => l.Replace("start", "again", StringComparison.Ordinal)),
        ];
        int half = (rows.Length + 1) / 2;
        string text = string.Join(
            '\n',
            rows.Take(half).SelectMany((l, i) => half + i < rows.Length ? [l, rows[half + i]] : (string[])[l])
        );
        AssertIsDoubtedNearlyEverywhere(Recover(text));
    }

    private static void AssertIsDoubtedNearlyEverywhere(RecoveryResult result)
    {
        int making = Enumerable
            .Range(0, result.Source.LineCount)
            .Count(i => result.Program.FactsOf(result.Program.Root, i).Words > 0);
        int doubted = PrintedPages.DoubtsOf(result).Select(static e => e.Line).Distinct().Count();
        Assert.InRange(doubted, making * 9 / 10, result.Source.LineCount);
    }
}
