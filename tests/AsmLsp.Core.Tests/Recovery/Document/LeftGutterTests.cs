using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Listings.Gutter;
using AsmLsp.Core.Recovery.Results;
using static AsmLsp.Core.Tests.Recovery.Document.PrintedPages;

namespace AsmLsp.Core.Tests.Recovery.Document;

public class LeftGutterTests
{
    // The words by hand, from DS35007B, table 7-2.
    private const string BlinkWords = "0:3001 1:0086 2:2800";

    [Fact]
    public void Line_numbers_are_taken_off()
    {
        RecoveryResult result = Recover(
            """
             7          list    p=16f84a
             8          __config 0x3ff1
             9  lamp    equ     6
            10          org     0
            11  ; the lamp
            12  start   movlw   1
            13          movwf   lamp
            14          goto    start
            15          end
            """
        );
        Assert.Equal(BlinkWords, Words(result));
        Assert.StartsWith("        list    p=16f84a\n", Source(result), StringComparison.Ordinal);
        Assert.Contains(
            result.Entries,
            e => e.Code == DocumentCodes.LeftGutter && e.Message.Contains("line numbers", StringComparison.Ordinal)
        );
    }

    [Fact]
    public void Ragged_line_numbers_are_taken_off()
    {
        RecoveryResult result = Recover(
            "8 \tlist p=16f84a\n9 \t__config 0x3ff1\n10 lamp equ 6\n11  org 0\n12 start movlw 1\n13  movwf lamp\n14  goto start\n15  end"
        );
        Assert.Equal(BlinkWords, Words(result));
    }

    [Fact]
    public void Addresses_and_words_are_taken_off_and_agree()
    {
        RecoveryResult result = Recover(
            """
                                list    p=16f84a
                                __config 0x3ff1
                        lamp    equ     6
                                org     0
            0000  3001  start   movlw   1
            0001  0086          movwf   lamp
            0002  2803          goto    next
            0003  0000  next    nop
            0004  2800          goto    start
                                end
            """
        );
        Assert.Equal("0:3001 1:0086 2:2803 3:0000 4:2800", Words(result));
        Assert.Contains("\nstart   movlw   1\n", Source(result), StringComparison.Ordinal);
        Assert.Contains(
            result.Entries,
            e => e.Code == DocumentCodes.PrintedWordsAgree && e.Message.StartsWith("5 of 5", StringComparison.Ordinal)
        );
        Assert.True(result.IsClean, string.Join('\n', DoubtsOf(result)));
    }

    [Fact]
    public void Line_numbers_after_the_words_are_taken_off_too()
    {
        RecoveryResult result = Recover(
            """
                        00001         list    p=16f84a
                        00002         __config 0x3ff1
                        00003 lamp    equ     6
                        00004         org     0
            0000 3001   00005 start   movlw   1
            0001 0086   00006         movwf   lamp
            0002 2803   00007         goto    next
            0003 0000   00008 next    nop
            0004 2800   00009         goto    start
                        00010         end
            """
        );
        Assert.Equal("0:3001 1:0086 2:2803 3:0000 4:2800", Words(result));
        Assert.Contains(
            result.Entries,
            e => e.Code == DocumentCodes.PrintedWordsAgree && e.Message.StartsWith("5 of 5", StringComparison.Ordinal)
        );
    }

    [Fact]
    public void Word_that_is_printed_otherwise_is_a_doubt_on_its_line()
    {
        RecoveryResult result = Recover(
            """
                                list    p=16f84a
                                __config 0x3ff1
                                org     0
            0000  3018  start   movlw   10
            0001  0086          movwf   6
            0002  0000          nop
            0003  2800          goto    start
                                end
            """
        );
        // MOVLW k: 11 00xx kkkk kkkk (DS35007B, table 7-2).
        Assert.Contains(
            "start   movlw   10 ;? the page prints 0x3018 here [start movlw 0x18] (page 1, line 4)",
            Source(result),
            StringComparison.Ordinal
        );
        RecoveryEntry reported = Assert.Single(DoubtsOf(result));
        Assert.Equal(
            (DocumentCodes.PrintedWordDiffers, Severity.Warning, 3),
            (reported.Code, reported.Severity, reported.Line)
        );
        Assert.Equal("0:3010 1:0086 2:0000 3:2800", Words(result));
    }

    [Fact]
    public void Labels_of_hexadecimal_letters_are_no_gutter()
    {
        RecoveryResult result = Recover(
            """
                    list    p=16f84a
                    __config 0x3ff1
                    org     0
            face    movlw   1
            bead    movwf   6
            cafe    nop
            fade    nop
            deaf    goto    face
                    end
            """
        );
        Assert.Equal("0:3001 1:0086 2:0000 3:0000 4:2800", Words(result));
        Assert.Contains("\nface    movlw   1\n", Source(result), StringComparison.Ordinal);
    }
}
