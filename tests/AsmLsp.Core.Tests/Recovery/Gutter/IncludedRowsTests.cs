using AsmLsp.Core.Recovery.Results;
using static AsmLsp.Core.Tests.Recovery.Document.PrintedPages;

namespace AsmLsp.Core.Tests.Recovery.Gutter;

public class IncludedRowsTests
{
    // By hand (DS35007B, table 7-2): MOVLW 11 00xx k, MOVWF 00 0000 1f, GOTO 10 1k.
    private const string Words3 = "0:3001 1:0086 2:2800";

    [Fact]
    public void Rows_of_a_chip_header_that_is_printed_become_comments()
    {
        RecoveryResult result = Recover(
            """
                        00001         list    p=16f84a
                        00002         include <p16f84a.inc>
                        00001 ; names of the registers
                        00002 lampreg equ 6
                        00134         list
                        00003         __config 0x3ff1
                        00004         org     0
            0000 3001   00005 start   movlw   1
            0001 0086   00006         movwf   PORTB
            0002 2800   00007         goto    start
                        00008         nolist
                        00009         end
            """
        );
        Assert.Equal(Words3, Words(result));
        Assert.True(result.IsClean, string.Join('\n', DoubtsOf(result)));
        Assert.Contains("; lampreg equ 6", Source(result), StringComparison.Ordinal);
    }

    [Fact]
    public void Rows_of_a_file_that_is_not_there_stand_in_its_place()
    {
        RecoveryResult result = Recover(
            """
             1          list    p=16f84a
             2          __config 0x3ff1
             3          include <lamps.inc>
             1  lamp    equ     6
             2  once    equ     1
             3
             4  ; that is all
             4          org     0
             5  start   movlw   once
             6          movwf   lamp
             7          goto    start
             8          end
            """
        );
        Assert.Equal(Words3, Words(result));
        // That the line is a comment now is reported: whether the file is all there, only the page shows.
        RecoveryEntry reported = Assert.Single(DoubtsOf(result));
        Assert.Equal((DocumentCodes.CodeInComment, 2), (reported.Code, reported.Line));
        Assert.Contains("; include <lamps.inc>", Source(result), StringComparison.Ordinal);
    }
}
