using AsmLsp.Core.Recovery.Results;
using static AsmLsp.Core.Tests.Recovery.Document.PrintedPages;

namespace AsmLsp.Core.Tests.Recovery.Document;

public class WrappedRestsTests
{
    private const string Head = """
                list    p=16f84a        ; as long as the page is wide
                __config 0x3ff1
                cblock  0x0c

        """;

    private const string Tail = """

                endc
                org     0
        start   clrf    second
                goto    start
                end
        """;

    [Fact]
    public void Rest_of_a_comment_among_variables_takes_no_register()
    {
        RecoveryResult result = Recover(
            Head + "        first           ; the time until the lamps will go\nout\n        second" + Tail
        );
        // CLRF 0x0D, GOTO 0 (DS35007B, table 7-2): 'second' is the register after 'first'.
        Assert.Equal("0:018D 1:2800", Words(result));
        Assert.Contains("; the time until the lamps will go out", Source(result), StringComparison.Ordinal);
        Assert.True(result.IsClean, string.Join('\n', DoubtsOf(result)));
    }

    [Fact]
    public void Lone_word_at_the_left_edge_of_indented_variables_is_a_doubt_where_it_would_have_fitted()
    {
        RecoveryResult result = Recover(Head + "        first           ; the time\nout\n        second" + Tail);
        Assert.Equal("0:018E 1:2800", Words(result));
        Assert.Contains(
            "out ;? a variable, or the rest",
            Source(result).Replace("  ", "", StringComparison.Ordinal),
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void Variable_at_the_left_edge_is_no_rest()
    {
        RecoveryResult result = Recover(
            Head + "first                   ; the time until the lamps go all\nout\nsecond" + Tail
        );
        // Either reading is possible: there must be a doubt, or the register must be there.
        Assert.True(Words(result) == "0:018E 1:2800" || DoubtsOf(result).Any(), Words(result));
    }

    [Fact]
    public void Label_under_a_full_comment_stays_a_label()
    {
        RecoveryResult result = Recover(
            """
                    list    p=16f84a        ; as long as the page is wide
                    __config 0x3ff1
                    org     0
                    goto    again           ; and the rest of it is below
            again
                    goto    again
                    end
            """
        );
        Assert.Equal("0:2801 1:2801", Words(result));
    }

    [Fact]
    public void Short_comment_has_no_rest()
    {
        RecoveryResult result = Recover(
            """
                    list    p=16f84a        ; as long as the page is wide
                    __config 0x3ff1
                    org     0
                    nop                     ; short
            spare
                    goto    0
                    end
            """
        );
        Assert.Contains("\nspare\n", Source(result), StringComparison.Ordinal);
    }

    [Fact]
    public void Rest_that_could_be_an_instruction_becomes_the_comments_with_a_doubt()
    {
        RecoveryResult result = Recover(
            """
                    list    p=16f84a        ; as long as the page is wide
                    __config 0x3ff1
                    org     0
                    nop                     ; quiet at night: the good
            neighbors sleep
                    goto    0
                    end
            """
        );
        Assert.Equal("0:0000 1:2800", Words(result));
        Assert.Contains(
            "; neighbors sleep ;? taken as the rest of the comment above [neighbors sleep]",
            Source(result),
            StringComparison.Ordinal
        );
        Assert.False(result.IsClean);
    }

    [Fact]
    public void Lone_word_under_a_full_comment_that_nobody_asks_for_is_its_rest_with_a_doubt_where_variables_stand_at_the_edge()
    {
        RecoveryResult result = Recover(
            Head
                + "first                   ; the time until the lamps will go\nout\nsecond                  ; in turns"
                + Tail
        );
        Assert.Equal("0:018D 1:2800", Words(result));
        Assert.Contains("; out ;? taken as the rest of the comment above", Source(result), StringComparison.Ordinal);
    }

    [Fact]
    public void Variable_that_is_used_is_no_rest_of_a_full_comment()
    {
        RecoveryResult result = Recover(
            Head + "first                   ; the time until the lamps will go\nsecond" + Tail
        );
        Assert.Equal("0:018D 1:2800", Words(result));
        Assert.Contains("\nsecond\n", Source(result), StringComparison.Ordinal);
    }

    [Fact]
    public void Words_that_are_no_list_of_variables_are_the_rest_of_a_full_comment()
    {
        RecoveryResult result = Recover(
            Head
                + "first                   ; the time until the lamps go, if\nthey are on\nsecond                  ; in turns"
                + Tail
        );
        Assert.Equal("0:018D 1:2800", Words(result));
        Assert.True(result.IsClean, string.Join('\n', DoubtsOf(result)));
    }

    [Fact]
    public void Lone_word_in_a_text_without_its_blanks_whose_comments_go_on_is_a_variable_with_a_doubt()
    {
        string lines =
            Head + "first ; the lamps go\nout\nthird ; counts while it\nis still there\nsecond ; in turns" + Tail;
        RecoveryResult result = Recover(
            string.Join(
                '\n',
                lines
                    .Split('\n')
                    .Select(
                        (l, i) => i == 0 ? l : string.Join(' ', l.Split(' ', StringSplitOptions.RemoveEmptyEntries))
                    )
            )
        );
        // First, out, third: 'second' is 0x0F; or 0x0E if the word is the comment's.
        Assert.Equal("0:018F 1:2800", Words(result));
        Assert.Contains("out ;? a variable, or the rest", Source(result), StringComparison.Ordinal);
        Assert.Contains("it is still there\n", Source(result), StringComparison.Ordinal);
    }

    [Fact]
    public void Word_parted_by_a_hyphen_is_joined_without_a_blank()
    {
        RecoveryResult result = Recover(Head + "        second          ; the time until the lam-\nps will go" + Tail);
        Assert.Contains("until the lam-ps will go", Source(result), StringComparison.Ordinal);
    }

    [Fact]
    public void Numbers_that_go_on_in_the_next_lines_are_joined_with_a_doubt()
    {
        RecoveryResult result = Recover(
            """
                    list    p=16f84a
                    __config 0x3ff1
                    org     0
                    dt
            b'00000001',b'00000010',b'00000100',b'00001000',b'00
            010000'
                    end
            """
        );
        // RETLW 11 01xx k (DS35007B, table 7-2).
        Assert.Equal("0:3401 1:3402 2:3404 3:3408 4:3410", Words(result));
        Assert.Contains(";? two printed lines made one", Source(result), StringComparison.Ordinal);
    }
}
