using static AsmLsp.Core.Tests.Refactorings.RefactoringCheck;

namespace AsmLsp.Core.Tests.Refactorings;

/// <summary>Delays after comments that ask for one.</summary>
public class InsertDelayTests
{
    private const string Head = Chip + "; clock 4 MHz\n org 0\n";

    [Fact]
    public void Comment_that_asks_for_a_time_gets_loops_of_that_time() =>
        Makes(
            "insert-delay/here",
            Head + " nop\n; wait {|}100 ms\n nop\n goto $\n end\n",
            Head
                + " nop\n; wait 100 ms\n; 100 ms at 4 MHz = 100,000 cycles\ndelay_count1 equ 0x4F\ndelay_count2 equ 0x4E\n"
                + Lines(
                    "movlw 0xDD",
                    "movwf delay_count1",
                    "movlw 0x82",
                    "movwf delay_count2",
                    "decfsz delay_count1,F",
                    "goto $-1",
                    "decfsz delay_count2,F",
                    "goto $-3",
                    "goto $+1"
                )
                + " nop\n goto $\n end\n",
            "Insert a delay here: 100 ms at 4 MHz = 100,000 cycles; 9 words, counting in 0x4F, 0x4E; W changes (changes the program's words)"
        );

    [Fact]
    public void A_short_delay_needs_no_counter() =>
        Makes(
            "insert-delay/here",
            Head + " bsf PORTB,0 ; pause{|} 3us\n bcf PORTB,0\n goto $\n end\n",
            Head
                + " bsf PORTB,0 ; pause 3us\n; 3 µs at 4 MHz = 3 cycles\n"
                + Lines("goto $+1", "nop")
                + " bcf PORTB,0\n goto $\n end\n",
            "Insert a delay here: 3 µs at 4 MHz = 3 cycles; 2 words (changes the program's words)"
        );

    [Fact]
    public void Cycles_need_no_clock() =>
        Makes(
            "insert-delay/here",
            Chip + " org 0\n nop\n; delay{|} of 2 cycles\n goto 0\n end\n",
            Chip + " org 0\n nop\n; delay of 2 cycles\n; 2 cycles\n" + Lines("goto $+1") + " goto 0\n end\n"
        );

    [Theory]
    // No clock; no word that asks; two places of the bank; after a skip; a place that nothing reaches; in front of a table.
    [InlineData(" org 0\n nop\n; wait 1{|} ms\n goto 0\n end\n")]
    [InlineData("; clock 4 MHz\n org 0\n nop\n; takes 1{|} ms\n goto 0\n end\n")]
    [InlineData("; clock 4 MHz\n org 0\n btfsc 0xC,0\n; wait 1{|} ms\n goto 0\n end\n")]
    [InlineData("; clock 4 MHz\n org 0\n goto 0\n; wait 1{|} ms\n goto 0\n end\n")]
    public void Delay_is_not_offered_here(string source) => OffersNo("insert-delay", Chip + source);

    [Fact]
    public void Counters_need_a_bank_that_is_certain() =>
        OffersNo(
            "insert-delay",
            FourBanks
                + "; clock 4 MHz\n org 0\n btfsc 0x20,0\n bsf STATUS,RP0\n nop\n; wait 100{|} ms\n nop\n goto 0\n end\n"
        );

    private static string Lines(params string[] lines) => string.Concat(lines.Select(static l => $"        {l}\n"));
}
