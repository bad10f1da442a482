using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Recovery.Listings;
using AsmLsp.Core.Recovery.Results;

namespace AsmLsp.Core.Tests.Recovery.Document;

/// <summary>What else printed listings have on their lines, and what printers do to long lines.</summary>
public class PrintedLayoutTests
{
    private const string Head =
        "        list p=16f84a\n        include <p16f84a.inc>\n        __config _CP_OFF & _WDT_OFF & _XT_OSC\n";

    private static RecoveryResult Recover(params string[] pages) => DocumentRecovery.Run(PrintedPages.Of(pages));

    private static string Source(RecoveryResult result) => result.Source.ToString().TrimEnd('\n');

    [Fact]
    public void Rows_of_a_macros_call_are_left_out_and_their_words_compared()
    {
        RecoveryResult result = Recover(
            """
                            00001         list p=16f84a
                            00002         include <p16f84a.inc>
            2007   3FF9     00003         __config _CP_OFF & _WDT_OFF & _XT_OSC
            0000000C        00004 count   equ 0x0c
                            00005 load    macro value
                            00006         movlw value
                            00007         movwf count
                            00008         endm
            0000            00009         org 0
                            00010 start   load 5
            0000   3005         M         movlw 5
            0001   008C         M         movwf count
            0002   2800     00011         goto start
                            00012         end
            """
        );
        Assert.True(result.IsClean, string.Join('\n', result.Entries));
        Assert.Equal(4, result.Program.Image.Count);
        Assert.DoesNotContain("M  ", Source(result), StringComparison.Ordinal);
        Assert.Contains(
            result.Entries,
            e => e.Code == DocumentCodes.PrintedWordsAgree && e.Message.StartsWith("4 of 4", StringComparison.Ordinal)
        );
    }

    [Fact]
    public void Rows_that_go_on_with_data_are_left_out_and_compared()
    {
        RecoveryResult result = Recover(
            """
             1                   list p=16f84a
             2                   include <p16f84a.inc>
             3  2007 3FF9        __config _CP_OFF & _WDT_OFF & _XT_OSC
             4                   org 0
             5  0000 2800 loop   goto loop
             6  0001 3441 text   dt "AB",0
                0002 3442
                0003 3400
             7
             8  0004 0063        sleep
             9                   end
            """
        );
        Assert.True(result.IsClean, string.Join('\n', result.Entries));
        Assert.Contains(
            result.Entries,
            e => e.Code == DocumentCodes.PrintedWordsAgree && e.Message.StartsWith("6 of 6", StringComparison.Ordinal)
        );
    }

    [Fact]
    public void Word_of_a_macros_call_that_differs_is_a_doubt()
    {
        RecoveryResult result = Recover(
            """
                            00001         list p=16f84a
            2007   3FF1     00002         __config 3FF1
                            00003 load    macro value
                            00004         movlw value
                            00005         movwf 0x0c
                            00006         endm
                            00007         org 0
                            00008 start   load 8
            0000   3003         M         movlw 3
            0001   008C         M         movwf 0x0c
            0002   2800     00009         goto start
            0003   0063     00010         sleep
                            00011         end
            """
        );
        Assert.False(result.IsClean);
        Assert.Contains(
            result.Entries,
            e => e.Code == DocumentCodes.PrintedWordDiffers && e.Severity == Severity.Warning
        );
        Assert.Contains("load 8 ;?", Source(result), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("Message[12]: Mind the bank of this register.")]
    [InlineData("Warning [7] : A word stands too far left.")]
    [InlineData("*** Error 3: label not found")]
    public void Messages_of_the_printing_are_no_part_of_the_program(string message)
    {
        RecoveryResult result = Recover(
            Head + " org 0\nloop clrf PORTB\n" + message + "\n call sub\n goto loop\nsub return\n end"
        );
        Assert.True(result.IsClean, string.Join('\n', result.Entries));
        Assert.DoesNotContain(message, Source(result), StringComparison.Ordinal);
        Assert.Contains(
            result.Entries,
            e => e.Code == DocumentCodes.SetAside && e.Message.Contains(message, StringComparison.Ordinal)
        );
    }

    [Fact]
    public void Error_directive_stays() =>
        Assert.Contains(
            "error \"too long\"",
            Source(
                Recover(
                    Head
                        + " org 0\nloop clrf PORTB\n call sub\n goto loop\n if 0\n error \"too long\"\n endif\nsub return\n end"
                )
            ),
            StringComparison.Ordinal
        );

    [Fact]
    public void Running_heads_that_change_are_known_by_their_page_numbers()
    {
        RecoveryResult result = Recover(
            "The first steps   140\n" + Head + " org 0\nloop clrf PORTB",
            "141   A light that blinks\n call sub\n goto loop",
            "Listing 7   142\nsub return\n end"
        );
        Assert.True(result.IsClean, string.Join('\n', result.Entries));
        Assert.DoesNotContain("blinks", Source(result), StringComparison.Ordinal);
    }

    [Fact]
    public void Prose_in_the_font_of_the_listing_does_not_begin_it()
    {
        RecoveryResult result = Recover(
            "Here is the program as it stands in my chip.\nType it in with care.\n; blink\n"
                + Head
                + " org 0\nloop clrf PORTB\n call sub\n goto loop\nsub return\n clrf PORTA\n clrf PORTB\n nop\n nop\n end"
        );
        Assert.True(result.IsClean, string.Join('\n', result.Entries));
        Assert.StartsWith("; blink", Source(result), StringComparison.Ordinal);
    }

    [Fact]
    public void Lines_broken_at_the_last_column_are_whole_again()
    {
        string[] lines =
        [
            "; The lamp on port B goes on when the button is pressed.",
            .. Head.TrimEnd('\n').Split('\n'),
            "        org 0",
            "loop    btfss PORTA,0   ; is the button being pressed by somebody now",
            "        goto loop       ; no, so that there is nothing for us to do",
            "        clrf PORTB      ; yes",
            "        goto loop",
            "        end",
        ];
        string[] broken = [.. lines.SelectMany(l => l.Chunk(50).Select(c => new string(c)))];
        RecoveryResult result = Recover(string.Join('\n', broken));
        Assert.True(result.IsClean, string.Join('\n', result.Entries));
        Assert.Contains("; is the button being pressed by somebody now", Source(result), StringComparison.Ordinal);
    }

    [Fact]
    public void Name_broken_at_the_last_column_is_whole_again()
    {
        RecoveryResult result = Recover(
            "        list p=12f675\n        include <p12f675.inc>\n        __config _CP_OFF & _WDT_OFF & _MCLRE_OFF & _INT\nRC_OSC_NOCLKOUT\n        org 0\nloop    clrf GPIO\n        call sub\n        goto loop\nsub     return\n        end"
        );
        Assert.False(result.Program.HasErrors);
        Assert.Contains("_INTRC_OSC_NOCLKOUT", Source(result), StringComparison.Ordinal);
    }

    [Fact]
    public void Signs_alone_under_a_comment_are_the_rest_of_its_box()
    {
        RecoveryResult result = Recover(
            ";\n*\n; a box\n*\n" + Head + " org 0\nloop clrf PORTB\n call sub\n goto loop\nsub return\n end"
        );
        Assert.True(result.IsClean, string.Join('\n', result.Entries));
    }

    [Fact]
    public void Addresses_with_colons_are_a_gutter()
    {
        RecoveryResult result = Recover(
            """
                       list p=16f84a
                       include <p16f84a.inc>
            2007: 3FF9         __config _CP_OFF & _WDT_OFF & _XT_OSC
                               org 0
            000: 0186  loop    clrf PORTB
            001: 2003          call sub
            002: 2800          goto loop
            003: 0008  sub     return
                               end
            """
        );
        Assert.True(result.IsClean, string.Join('\n', result.Entries));
        Assert.Equal(5, result.Program.Image.Count);
    }
}
