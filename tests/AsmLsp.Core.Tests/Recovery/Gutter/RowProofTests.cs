using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Evidence;
using AsmLsp.Core.Recovery.Listings.Gutter;
using AsmLsp.Core.Recovery.Results;
using static AsmLsp.Core.Tests.Recovery.Document.PrintedPages;

namespace AsmLsp.Core.Tests.Recovery.Gutter;

/// <summary>What the numbers in front of rows prove.</summary>
public class RowProofTests
{
    [Fact]
    public void Row_with_a_number_is_never_the_foot_of_its_page()
    {
        string Page(int first, string label) =>
            string.Join('\n', Enumerable.Range(first, 9).Select(static n => $"{n, 3}         nop"))
            + $"\n{first + 9, 3} {label}";
        RecoveryResult result = Recover(
            "  1         list    p=16f84a\n  2         __config 0x3ff1\n"
                + string.Join('\n', Enumerable.Range(3, 7).Select(static n => $"{n, 3}         nop"))
                + "\n 10 step_10",
            Page(11, "step_20"),
            Page(21, "step_30"),
            " 31         goto    step_10\n 32         goto    step_20\n 33         goto    step_30\n 34         end"
        );
        Assert.True(result.IsClean, string.Join('\n', DoubtsOf(result)));
        Assert.Equal(7 + 9 + 9 + 3, result.Program.Image.Words.Count(static w => w.Address < 0x2000));
    }

    [Fact]
    public void Rest_at_the_left_edge_of_a_numbered_listing_is_no_label()
    {
        RecoveryResult result = Recover(
            """
               1         list    p=16f84a
               2         __config 0x3ff1
               3         org     0
               4 begin   movlw   9       ; this remark runs on and on until it fills the row
            pause
               5         movwf   6
               6         call    pause
               7         goto    begin
               8 pause
               9         nop
              10         return
              11         end
            """
        );
        Assert.True(result.IsClean, string.Join('\n', DoubtsOf(result)));
        // CALL 10 0kkk kkkk kkkk (DS35007B, table 7-2): the label below is the one that is meant.
        Assert.Equal("0:3009 1:0086 2:2004 3:2800 4:0000 5:0008", Words(result));
    }

    [Fact]
    public void Ruler_too_long_for_its_row_belongs_to_the_number_above()
    {
        RecoveryResult result = Recover(
            """
               1         list    p=16f84a
               2         __config 0x3ff1
               3
            ;=======================================================
               4         movlw   9       ; the remark runs on until the row is
            full of words
               5         movwf   6
               6 again   clrwdt
               7         goto    again
               8
            ;=======================================================
               9         sleep
              10         nop
              11         end
            """
        );
        // CLRWDT 0x0064, SLEEP 0x0063, GOTO 10 1kkk kkkk kkkk (DS35007B, table 7-2).
        Assert.Equal("0:3009 1:0086 2:0064 3:2802 4:0063 5:0000", Words(result));
        Assert.Equal(2, result.Source.Lines.Count(static l => l.Text.StartsWith(";====", StringComparison.Ordinal)));
    }

    [Fact]
    public void Row_that_repeats_its_number_goes_on_with_the_row_above()
    {
        RecoveryResult result = Recover(
            """
            0001         list    p=16f84a
            0002         __config 0x3ff1
            0003         org     0
            0004 begin   movlw   9 ; this remark runs on and on until the row is full of
            0004 call
            0005         movwf   6
            0006         goto    begin
            0007         nop
            0008         end
            """
        );
        Assert.True(result.IsClean, string.Join('\n', DoubtsOf(result)));
        Assert.Equal("0:3009 1:0086 2:2800 3:0000", Words(result));
    }

    [Fact]
    public void Row_that_a_page_break_has_parted_in_the_middle_of_a_word_is_one()
    {
        RecoveryResult result = Recover(
            """
            0001         list    p=16f84a
            0002         __config 0x3ff1
            0003         org     0
            0004 begin   movlw   9 ; here the longest of all remarks stands, which fills its row
            0005 ; sub-
            """,
            """
            0005 routines
            0006         movwf   6
            0007         goto    begin
            0008         nop
            0009         end
            """
        );
        Assert.True(result.IsClean, string.Join('\n', DoubtsOf(result)));
        Assert.Equal("0:3009 1:0086 2:2800 3:0000", Words(result));
    }

    [Fact]
    public void Line_without_a_word_for_which_the_addresses_leave_no_room_is_no_code()
    {
        RecoveryResult result = Recover(
            """
                                list    p=16f84a
                                __config 0x3ff1
                                org     0
            0000  3009  begin   movlw   9               ; the table tells, by its
                                sleep
            0001  0086          movwf   6
            0002  0000          nop
            0003  0000          nop
            0004  2800          goto    begin
                                end
            """
        );
        Assert.Equal("0:3009 1:0086 2:0000 3:0000 4:2800", Words(result));
        Assert.True(result.IsClean, string.Join('\n', DoubtsOf(result)));
        Assert.Contains("by its sleep", Source(result), StringComparison.Ordinal);
    }

    [Fact]
    public void Listing_that_prints_words_beside_the_line_below_proves_nothing_about_a_line_without_one()
    {
        RecoveryResult result = Recover(
            """
                                list    p=16f84a
                                __config 0x3ff1
                                org     0
            0000  3009  begin   movlw   9
                                banksel 0x86
            0001  1683          movwf   6
                                banksel 6
            0003  1283          movlw   7
            0005  0085          movwf   5
            0006  2800          goto    begin
                                end
            """
        );
        Assert.Equal("0:3009 1:1683 2:0086 3:1283 4:3007 5:0085 6:2800", Words(result));
    }

    [Fact]
    public void Line_without_a_word_for_which_the_addresses_leave_room_stays()
    {
        RecoveryResult result = Recover(
            """
                                list    p=16f84a
                                __config 0x3ff1
                                org     0
            0000  3009  begin   movlw   9
                                sleep
            0002  0086          movwf   6
            0003  0000          nop
            0004  0000          nop
            0005  2800          goto    begin
                                end
            """
        );
        Assert.Equal("0:3009 1:0063 2:0086 3:0000 4:0000 5:2800", Words(result));
    }

    [Fact]
    public void One_line_too_many_is_reported_once_and_no_line_below_is_in_doubt()
    {
        RecoveryResult result = Recover(
            """
                                list    p=16f84a
                                __config 0x3ff1
                                org     0
            0000  3009  begin   movlw   9
            0001  0086          movwf   6
            0003  0000          nop
            0004  3007          movlw   7
            0005  0085          movwf   5
            0006  2800          goto    begin
                                end
            """
        );
        RecoveryEntry reported = Assert.Single(DoubtsOf(result));
        Assert.Equal(DocumentCodes.MissingLines, reported.Code);
    }

    [Fact]
    public void Open_digits_of_a_word_are_no_other_word()
    {
        RecoveryResult result = Recover(
            """
            0000 3009   00001 begin   movlw   9
            0001 0086   00002         movwf   6
            0002 2???   00003         goto    begin
            0003 2???   00004         call    begin
            ---- ----   00005         list    p=16f84a
            0004 0000   00006         nop
                        00007         end
            """
        );
        Assert.Equal("0:3009 1:0086 2:2800 3:2000 4:0000", Words(result));
        Assert.DoesNotContain(result.Entries, static e => e.Code == DocumentCodes.PrintedWordDiffers);
    }

    [Fact]
    public void Addresses_from_zero_are_no_line_numbers()
    {
        RecoveryResult result = Recover(
            """
                     list    p=16f84a
                     __config 0x3ff1
                     org     0
            0000     movlw   9
            0001     movwf   6
            0002     nop
            0003     goto    0
                     end
            """
        );
        Assert.True(result.IsClean, string.Join('\n', DoubtsOf(result)));
        RecoveryEntry reported = Assert.Single(result.Entries, static e => e.Code == DocumentCodes.LeftGutter);
        Assert.Contains("addresses", reported.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Listing_that_is_interleaved_with_its_explanation_keeps_its_rows()
    {
        RecoveryResult result = Recover(
            """
              1|         list    p=16f84a
            |The chip is named first, so that the words can be reported.
              2|         __config 0x3ff1
            |Its oscillator and its watchdog are chosen here.
              3|         org     0
              4| begin   movlw   9
            |The number of lamps goes to the register of the port.
              5|         movwf   6
              6|         goto    begin
            |And so it goes round.
              7|         nop
              8|         end
            """
        );
        Assert.Equal("0:3009 1:0086 2:2800 3:0000", Words(result));
        Assert.True(result.IsClean, string.Join('\n', DoubtsOf(result)));
    }
}
