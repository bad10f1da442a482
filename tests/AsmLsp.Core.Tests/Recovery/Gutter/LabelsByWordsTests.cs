using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Results;
using static AsmLsp.Core.Tests.Recovery.Document.PrintedPages;

namespace AsmLsp.Core.Tests.Recovery.Gutter;

public class LabelsByWordsTests
{
    // GOTO 10 1kkk kkkk kkkk, CALL 10 0kkk kkkk kkkk (DS30292C, table 13-2).
    private const string Listed = """
                            list    p=16f84a
                            __config 0x3ff1
                            org     0
        0000  3009  begin   movlw   9
        0001  2004          call    lift
        0002  2004          call    lift
        0003  2800          goto    begin
        0004  0086          movwf   6
        0005  0008          return
                            end
        """;

    [Fact]
    public void Label_whose_line_is_lost_is_put_in_where_the_words_say()
    {
        RecoveryResult result = Recover(Listed);
        Assert.Equal("0:3009 1:2004 2:2004 3:2800 4:0086 5:0008", Words(result));
        Assert.Contains("\nlift\n", Source(result), StringComparison.Ordinal);
        Assert.Contains(
            result.Entries,
            static e => e.Code == DocumentCodes.PrintedWordRead && e.Message.Contains("lift", StringComparison.Ordinal)
        );
        Assert.True(result.IsClean, string.Join('\n', DoubtsOf(result)));
    }

    [Fact]
    public void Words_that_say_two_places_put_nothing_in()
    {
        RecoveryResult result = Recover(Listed.Replace("0002  2004", "0002  2005", StringComparison.Ordinal));
        Assert.DoesNotContain("\nlift\n", Source(result), StringComparison.Ordinal);
        Assert.Contains(DoubtsOf(result), static e => e.Code == Catalogue.UndefinedName.Code);
    }

    [Fact]
    public void Configuration_has_no_label()
    {
        RecoveryResult result = Recover(
            """
                                list    p=16f84a
            2007  3ff1          __config 0x3ff1
                                org     0
            0000  3009  begin   movlw   9
            0001  0086          movwf   6
            0002  2807          goto    lift
            0003  2807          goto    lift
            0004  2800          goto    begin
                                end
            """
        );
        Assert.DoesNotContain("\nlift\n", Source(result), StringComparison.Ordinal);
        Assert.Contains(DoubtsOf(result), static e => e.Code == Catalogue.UndefinedName.Code);
    }

    [Fact]
    public void Near_name_that_goes_elsewhere_than_the_word_says_is_not_taken()
    {
        RecoveryResult result = Recover(
            """
                                list    p=16f84a
                                __config 0x3ff1
                                org     0
            0000  3009  begin   movlw   9
            0001  2004          call    fan_left
            0002  2005          call    fan_lift
            0003  2800          goto    begin
            0004  0086          movwf   6
            0005  0008  fan_lift return
                                end
            """
        );
        Assert.Contains("call    fan_left", Source(result), StringComparison.Ordinal);
        Assert.Equal("0:3009 1:2004 2:2005 3:2800 4:0086 5:0008", Words(result));
    }
}
