using AsmLsp.Core.Doubts;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Recovery.Suspicions;
using AsmLsp.Core.Tests.Fixes;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Tests.Recovery;

public class TextRecoveryTests
{
    [Fact]
    public void Printed_page_becomes_source()
    {
        RecoveryResult result = Recover(
            """
            Blinker for the shelf   page 1
            list p=16f84a
            include <p16f84a.inc>
            __CONFIG _CP_OFF &
            _WDT_OFF & _XT_OSC
            org 0
            loop bsf PORTB,O ; lamp on, and then wait until the
            motor has come to rest again
            movlw ‘A’
            goto loop
            2
            end
            """
        );
        Assert.Equal(
            """
            ; Blinker for the shelf   page 1
                    list p=16f84a
                    include <p16f84a.inc>
                    __CONFIG _CP_OFF & _WDT_OFF & _XT_OSC
                    org 0
            loop    bsf PORTB,0 ; lamp on, and then wait until the ;? was O: a number, or a name whose definition is lost?
            ; motor has come to rest again
                    movlw 'A'
                    goto loop
            ; 2
                    end
            """,
            result.Source.ToString()
        );
        Assert.Equal("0:1406 1:3041 2:2800 2007:3FF9", FixCheck.Words(result.Program));
    }

    [Fact]
    public void Doubt_is_made_on_the_very_line_and_reported()
    {
        RecoveryResult result = Recover("; when the train has left it can\nreturn to start\n nop\n end");
        Assert.Equal("; return to start ;? taken as the rest of the comment above", result.Source[1].Text);
        RecoveryEntry entry = Assert.Single(result.Entries, e => e.Line == 1);
        Assert.Equal((Severity.Warning, "open-doubt"), (entry.Severity, entry.Code));
    }

    [Theory]
    [InlineData(" dt \u201Cdon\u2019t\u201D,0\n end")]
    [InlineData(" dt \"a\u00A0b\",0\n end")]
    public void Typesetting_inside_of_a_text_is_reported(string source) =>
        Assert.Contains(
            Recover(source).Entries,
            static e => e.Code == DocumentCodes.BlanksInText && e.Severity == Severity.Warning
        );

    [Theory]
    [InlineData("; it waits until the\nend of the track\n nop\n movlw 5\n goto 0\n end", "0:0000 1:3005 2:2800")]
    [InlineData(" nop ; it goes on to the\nend\n movlw 5\n nop\n goto 0\n end", "0:0000")]
    [InlineData(" nop\n end\n movlw 5\n end", "0:0000")]
    public void End_in_the_middle_never_ends_the_program_silently(string source, string words)
    {
        RecoveryResult result = Recover(source);
        Assert.Equal(words, FixCheck.Words(result.Program));
        Assert.Contains(result.Entries, e => e.Severity == Severity.Warning && e.Line == 1);
    }

    [Fact]
    public void Bare_instruction_that_may_end_a_comment_stays_with_a_doubt()
    {
        RecoveryResult result = Recover(" nop ; until all of the trains\n movlw 1 ; and then to the\nreturn\n end");
        Assert.Equal("        return ;? or the rest of the comment above? [;]", result.Source[2].Text);
    }

    [Fact]
    public void Word_among_variables_that_nobody_asks_for_stays_a_variable_with_a_doubt()
    {
        RecoveryResult result = Recover(
            "cblock 20\nhold ; half seconds until the lamps are\nout\nlamps\nendc\nmovwf hold\nmovwf lamps\nend"
        );
        Assert.Equal("0:00A0 1:00A2", FixCheck.Words(result.Program));
        Assert.Contains(result.Entries, e => e.Line == 2 && e.Severity == Severity.Warning);
    }

    [Fact]
    public void Equal_lines_under_comments_each_have_their_doubt()
    {
        string source =
            string.Concat(
                Enumerable.Range(0, 7).Select(i => $"        movlw {i}        ; the divider is set by the\noption\n")
            ) + "        end\n";
        RecoveryResult result = Recover(source);
        for (int i = 0; i < 7; i++)
            Assert.NotNull(DoubtMark.Find(result.Source[2 * i + 1].Text));
    }

    [Fact]
    public void Question_is_put_on_every_line_however_many_there_are()
    {
        string source =
            string.Concat(
                Enumerable.Range(0, 200).Select(i => $"        movlw {i}        ; the divider is set by the\noption\n")
            ) + "        end\n";
        RecoveryResult result = Recover(source);
        for (int i = 0; i < 200; i++)
            Assert.NotNull(DoubtMark.Find(result.Source[2 * i + 1].Text));
    }

    [Fact]
    public void Word_among_variables_that_is_a_label_further_down_becomes_a_comment()
    {
        RecoveryResult result = Recover(
            "cblock 20\nplace ; where we are in the\npattern\nlamps\nendc\nmovwf place\nmovwf lamps\npattern movwf lamps\ngoto pattern\nend"
        );
        Assert.Equal("; pattern", result.Source[2].Text);
        Assert.Equal("0:00A0 1:00A1 2:00A1 3:2802", FixCheck.Words(result.Program));
    }

    [Fact]
    public void Variable_in_the_column_of_the_others_stays_with_a_doubt_where_nobody_uses_it()
    {
        const string source =
            "        cblock 0x20\n          hold ; half seconds\n          spare\n          lamps\n        endc\n        movwf hold\n        movwf lamps\n        end\n";
        RecoveryResult result = Recover(source);
        Assert.Equal("0:00A0 1:00A2", FixCheck.Words(result.Program));
        // 'half seconds' and 'spare' may be one comment.
        Assert.Equal(DocumentCodes.ShortBlock, Assert.Single(result.Entries, e => e.Line == 2).Code);
    }

    [Fact]
    public void Variable_that_is_used_stays_with_a_doubt_where_the_comment_above_breaks_off()
    {
        RecoveryResult result = Recover(
            "cblock 20\nhold ; half seconds until the\nlamps\nendc\nmovwf hold\nmovwf lamps\nend"
        );
        Assert.Equal("0:00A0 1:00A1", FixCheck.Words(result.Program));
        Assert.Contains(result.Entries, e => e.Line == 2 && e.Severity == Severity.Warning);
    }

    [Theory]
    [InlineData(" got0 0\n end", "        goto 0 ;? was got0")]
    // OCR reads a 1 for a semicolon, too.
    [InlineData(" 1ncf 20,f\n end", "        incf 20,f ;? was 1ncf [;]")]
    [InlineData("loop b5f 6,1\n end", "loop    bsf 6,1 ;? was b5f")]
    [InlineData(" CA11 0\n end", "        CALL 0 ;? was CA11")]
    public void Digit_in_an_operation_is_read_as_the_letter_with_a_doubt(string source, string line) =>
        Assert.Equal(line, Recover(source).Source[0].Text);

    [Fact]
    public void Letter_that_may_be_a_name_or_a_digit_is_a_doubt() =>
        Assert.Equal("        movlw i ;? was I", Recover("i equ 5\n movlw I\n end").Source[1].Text);

    [Fact]
    public void Misread_directive_with_a_number_sign_is_never_lost() =>
        Assert.Contains(Recover("#end1f\n nop\n end").Entries, e => e.Line == 0 && e.Severity != Severity.Information);

    [Fact]
    public void Guessed_operation_carries_what_stood_there()
    {
        RecoveryResult result = Recover(" movle 5\n end");
        Assert.Equal("        movlw 5 ;? was movle", result.Source[0].Text);
    }

    [Fact]
    public void Line_with_a_doubt_is_left_alone_when_recovered_again()
    {
        string once = Recover(" movle 5\n; and the\nreturn to base\n end").Source.ToString();
        Assert.Equal(once, Recover(once).Source.ToString());
    }

    [Fact]
    public void Unknown_macro_stays_an_error()
    {
        RecoveryResult result = Recover(" lcdclear 5\n nop\n end");
        Assert.Contains(result.Entries, e => e.Severity == Severity.Error && e.Line == 0);
        Assert.Equal("        lcdclear 5", result.Source[0].Text.TrimEnd());
    }

    [Fact]
    public void Entries_are_about_the_lines_of_the_written_source()
    {
        RecoveryResult result = Recover(" dt 1,\n2,\n3\nPage 4\nmovlw 5\n end");
        Assert.Equal(" dt 1,2,3".TrimStart(), result.Source[0].Text.Trim());
        Assert.Equal(
            ["0 continued-line", "1 header-or-footer", "2 operation-not-indented"],
            result.Entries.Where(e => e.Severity == Severity.Information).Select(e => $"{e.Line} {e.Code}")
        );
    }

    [Fact]
    public void Pages_follow_their_lines()
    {
        RecoveryResult result = TextRecovery.Run(
            SourceText.From(" dt 1,\n2\nmovlw 5\nmovwf 20\n end"),
            new RecoveryOptions
            {
                Origins =
                [
                    LineOrigin.At(1, 1),
                    LineOrigin.At(1, 2),
                    LineOrigin.At(1, 3),
                    LineOrigin.At(2, 1),
                    LineOrigin.At(2, 2),
                ],
            }
        );
        Assert.Equal([1, 1, 2], result.Entries.Where(e => e.Severity == Severity.Information).Select(e => e.Page ?? 0));
    }

    [Fact]
    public void Clean_source_comes_back_as_it_is()
    {
        const string source =
            "        list p=16f84a\n        include <p16f84a.inc>\n        __config _CP_OFF & _XT_OSC\nloop    movlw 5\n        goto loop\n        end\n";
        RecoveryResult result = Recover(source);
        Assert.Equal(source, result.Source.ToString());
        Assert.True(result.IsClean);
    }

    private static RecoveryResult Recover(string source) => TextRecovery.Run(SourceText.From(source));
}
