using AsmLsp.Core.Recovery.Results;
using static AsmLsp.Core.Tests.Recovery.Document.PrintedPages;

namespace AsmLsp.Core.Tests.Recovery.Audit;

/// <summary>Signs that OCR took for digits, and instructions in which it misread a letter.</summary>
public class MisreadSignsTests
{
    [Fact]
    public void Number_that_starts_with_the_digit_that_stands_for_other_signs_is_doubted()
    {
        RecoveryResult result = Recover(
            "        list    p=16f84a\nloops   equ     74\n        org     0\n        clrw                 7 so far\n        movlw   loops        7Es kommt\n        movwf   0x0c         7la lampe\n        goto    $\n        end"
        );
        Assert.Contains(
            DoubtsOf(result),
            static e => e.Line == 1 && e.Message.Contains("74", StringComparison.Ordinal)
        );
    }

    [Fact]
    public void Numbers_with_their_units_are_no_misread_signs()
    {
        RecoveryResult result = Recover(
            "        list    p=16f84a\nloops   equ     74\n        org     0\n        clrw                 ; 7 ms and 7ms\n        movlw   loops        ; 7 Hz, 7 words\n        movwf   0x0c         ; 7th of 7\n        goto    $\n        end"
        );
        Assert.True(result.IsClean, string.Join('\n', DoubtsOf(result)));
    }

    [Theory]
    [InlineData("movilw  0x1f")]
    [InlineData("movft   0x0c,w")]
    public void Instruction_with_a_misread_letter_below_a_comment_is_never_a_silent_part_of_it(string row)
    {
        RecoveryResult result = Recover(
            "        list    p=16f84a\n        org     0\nwait    clrw    ;the time until the cook comes back to the oven\n"
                + row
                + "\nmovwf   0x0d\ngoto    wait\nend"
        );
        Assert.False(result.IsClean);
        Assert.Contains(
            DoubtsOf(result),
            e => result.Source[e.Line].Text.Contains(row.Split(' ')[0], StringComparison.OrdinalIgnoreCase)
        );
    }
}
