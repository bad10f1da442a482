using AsmLsp.Core.Doubts;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Recovery.Results;

namespace AsmLsp.Core.Tests.Recovery.Printed;

public class OcrDoubtsTests
{
    private const string Head =
        "        list    p=16f84a\n        include <p16f84a.inc>\n        __config _CP_OFF & _WDT_OFF & _XT_OSC\n        org     0\n";
    private const string Tail = "\nloop    goto    loop\n        end";

    private static RecoveryResult Recover(string line, double confidence = 0.995) =>
        Scanned.Recover(Head + line + Tail, confidence);

    [Theory]
    [InlineData("        bsf     STATUS,RP0")]
    [InlineData("        movlw   0x3A")]
    [InlineData("        incf    PORTB,f")]
    [InlineData("start   clrf    PORTA           ; all off")]
    public void A_line_that_was_read_clearly_and_has_no_double_needs_no_doubt(string line)
    {
        RecoveryResult result = Recover(line);
        Assert.Null(result.DoubtOn(line.Split(';')[0].Trim().Split(' ')[^1]));
        Assert.Equal("ocr-text", Assert.Single(result.Entries, static e => e.Severity == Severity.Warning).Code);
    }

    [Theory]
    [InlineData("        movlw   0x3c", "0x3c", "is it 0x3c or 0x3e?")]
    [InlineData("        dt      \"Hello\"", "dt", "check \"Hello\"")]
    [InlineData("        incf    PORTB", "incf", null)]
    public void What_scans_take_for_each_other_is_doubted_however_clear_it_is(
        string line,
        string part,
        string? doubt
    ) => Assert.Equal(doubt, Recover(line).DoubtOn(part));

    [Fact]
    public void A_digit_that_was_not_read_clearly_is_doubted()
    {
        OcrPage page = Scanned.Page(Head + "        movlw   0x35" + Tail).Unsure(4, 8, 0.97);
        Assert.Equal("check 0x35", Scanned.Recover(page).DoubtOn("movlw"));
    }

    [Fact]
    public void An_operation_that_was_not_read_clearly_names_its_doubles()
    {
        OcrPage page = Scanned.Page(Head + "        bsf     PORTB,3" + Tail).Unsure(4, 1, 0.6);
        RecoveryResult result = Scanned.Recover(page);
        string line = Assert.Single(
            result.Source.Lines.Select(static l => l.Text),
            static t => t.Contains("PORTB", StringComparison.Ordinal)
        );
        Assert.Equal("is it bsf or bcf?", DoubtMark.Read(line)!.Words);
        Assert.Contains(
            DoubtMark.Read(line)!.Alternatives,
            static a => a.Trim().StartsWith("bcf", StringComparison.Ordinal)
        );
    }

    [Fact]
    public void Registers_that_differ_in_a_digit_are_doubted_when_it_was_not_clear()
    {
        string program = Head.Replace("16f84a", "16f877", StringComparison.Ordinal) + "        clrf    PIR1" + Tail;
        Assert.Null(Scanned.Recover(program).DoubtOn("PIR"));
        Assert.Contains("PIR2", Scanned.Recover(Scanned.Page(program).Unsure(4, 7, 0.9)).DoubtOn("PIR"));
    }

    [Fact]
    public void A_printed_word_that_agrees_confirms_the_line_and_the_names_on_it()
    {
        string text =
            "                   list    p=16f84a\n                   include <p16f84a.inc>\n           count   equ     0x0c\n                   org     0\n"
            + "0000 303C          movlw   0x3c\n0001 008C          movwf   count\n0002 2802  loop    goto    loop\n0003 0008          return\n                   end";
        RecoveryResult result = Scanned.Recover(text);
        Assert.Null(result.DoubtOn("movlw"));
        Assert.Null(result.DoubtOn("equ"));
    }

    [Fact]
    public void A_printed_word_that_differs_is_a_doubt()
    {
        string text =
            "                   list    p=16f84a\n                   include <p16f84a.inc>\n                   org     0\n"
            + "0000 303C          movlw   0x3e\n0001 0086          movwf   PORTB\n0002 2802  loop    goto    loop\n0003 0008          return\n                   end";
        Assert.Contains("0x303C", Scanned.Recover(text).DoubtOn("movlw"));
    }

    [Fact]
    public void Ink_that_was_not_read_is_a_doubt_on_its_line()
    {
        OcrPage page = Scanned.Page(Head + "        movlw   7" + Tail);
        page = page with
        {
            Unread =
            [
                new InkSpot(
                    Scanned.Left + 18 * Scanned.Pitch,
                    Scanned.Top + 4 * Scanned.Leading - 3,
                    Scanned.Left + 18 * Scanned.Pitch + 2,
                    Scanned.Top + 4 * Scanned.Leading
                ),
            ],
        };
        Assert.Contains("not read", Scanned.Recover(page).DoubtOn("movlw"));
    }

    [Fact]
    public void A_commented_instruction_is_doubted_unless_its_sign_was_read_clearly()
    {
        string text = Head + "; movlw 5" + Tail;
        int row = text.Split('\n').TakeWhile(static l => !l.StartsWith("; movlw", StringComparison.Ordinal)).Count();
        Assert.Null(Scanned.Recover(text).DoubtOn("movlw"));
        Assert.Equal(
            "is this an instruction?",
            Scanned.Recover(Scanned.Page(text).Unsure(row, 0, 0.6)).DoubtOn("movlw")
        );
    }

    [Fact]
    public void A_destination_that_is_missing_where_others_have_one_is_doubted() =>
        Assert.Equal(
            "no destination was read",
            Recover("        movf    PORTB,w\n        movf    PORTA,w\n        incf    PORTB").DoubtOn("incf")
        );

    [Theory]
    [InlineData("        bef     STATUS,RP0", "bcf", "was bef")]
    [InlineData("        bcf     STATUS,RPO", "RP0", null)]
    [InlineData("        clrt    PORTB", "clrf", null)]
    [InlineData("        retum", "return", "was retum")]
    public void A_misread_word_is_put_right_with_a_doubt_where_another_is_near(
        string line,
        string part,
        string? doubt
    ) => Assert.Equal(doubt, Recover(line).DoubtOn(part));

    [Fact]
    public void A_misread_word_in_a_macro_is_put_right_with_a_doubt()
    {
        string text =
            Head
            + "set4    macro   value\n        moviw   value\n        movwf   PORTB\n        endm\n        set4    7"
            + Tail;
        Assert.Equal("was moviw", Scanned.Recover(text).DoubtOn("movlw   value"));
    }

    [Fact]
    public void Text_below_somebodys_scan_is_doubted_wherever_a_number_stands()
    {
        PrintedDocument document = Scanned.Document(Scanned.Page(Head + "        movlw   0x35" + Tail));
        document = document with
        {
            Pages =
            [
                document.Pages[0] with
                {
                    Lines =
                    [
                        .. document
                            .Pages[0]
                            .Lines.Select(static l => l with { CharacterConfidences = [], Confidence = 0.5 }),
                    ],
                },
            ],
        };
        Assert.Equal("check 0x35", AsmLsp.Core.Recovery.DocumentRecovery.Run(document).DoubtOn("movlw"));
    }

    [Fact]
    public void A_definition_is_doubted_when_something_like_it_is_used_and_defined_nowhere()
    {
        RecoveryResult result = Scanned.Recover(
            Head + "w_tem   equ     0x20\nother   equ     0x21\n        movwf   w_temp\n        movwf   other" + Tail
        );
        Assert.Equal("is it w_tem or w_temp?", result.DoubtOn("w_tem   equ"));
        Assert.Null(result.DoubtOn("other   equ"));
    }

    [Fact]
    public void A_definition_without_use_is_doubted_when_a_name_like_it_is_not_known()
    {
        Assert.NotNull(Recover("total   equ     0x20\n        movwf   totals").DoubtOn("equ"));
        Assert.Null(Recover("total   equ     0x20\n        movwf   sum").DoubtOn("equ"));
    }

    [Fact]
    public void A_macro_and_its_calls_that_differ_in_a_look_alike_are_both_doubted()
    {
        RecoveryResult result = Recover(
            "add16   macro   value\n        addwf   value,f\n        endm\n        addl6   PORTB\n        add16   PORTA"
        );
        Assert.Contains("add16 or addl6", result.DoubtOn("macro"));
        Assert.Contains("add16 or addl6", result.DoubtOn("PORTA"));
    }

    [Fact]
    public void A_name_read_far_more_often_than_its_look_alike_is_right()
    {
        RecoveryResult result = Recover(
            "add16   macro   value\n        addwf   value,f\n        endm\n        addl6   PORTB\n        add16   PORTA\n        add16   TRISA\n        add16   TRISB"
        );
        Assert.Null(result.DoubtOn("TRISB"));
    }

    [Fact]
    public void A_name_misread_alike_everywhere_needs_no_doubt()
    {
        RecoveryResult result = Recover(
            "setl6   macro   value\n        movwf   value\n        endm\n        setl6   PORTB"
        );
        Assert.Null(result.DoubtOn("macro"));
        Assert.Null(result.DoubtOn("setl6   PORTB"));
    }

    [Fact]
    public void What_nobody_knows_in_a_macro_that_nobody_calls_is_doubted()
    {
        RecoveryResult result = Recover(
            "twice   macro   value\n        movf    atl,w\n        addwf   value,f\n        addvf   value,f\n        endm"
        );
        Assert.Equal("check atl", result.DoubtOn("movf    atl"));
        Assert.Null(result.DoubtOn("addwf   value"));
        Assert.NotNull(
            result.Entries.FirstOrDefault(e =>
                e.Severity != Severity.Information
                && result.Source[e.Line].Text.Contains("addvf", StringComparison.Ordinal)
            )
        );
    }

    [Fact]
    public void What_follows_the_place_where_a_program_is_given_up_is_doubted_too()
    {
        RecoveryResult result = Recover(
            "n = 4\n        while   n\n        addlw   1\nne = n-1\n        endw\n        movf    sum+i,w"
        );
        Assert.Contains(result.Program.Problems, static p => p.Severity == Severity.Error);
        Assert.NotNull(result.DoubtOn("sum+i"));
    }

    [Fact]
    public void A_long_line_that_no_sign_makes_a_remark_is_doubted()
    {
        string text = "14 OOO6 1O8B   here    bef     INTCON,1       ; off";
        RecoveryResult result = Recover(text);
        string line = Assert.Single(
            result.Source.Lines.Select(static l => l.Text),
            static t => t.Contains("INTCON", StringComparison.Ordinal)
        );
        Assert.True(
            DoubtMark.Read(line) is not null
                || result.Entries.Any(e => e.Severity != Severity.Information && result.Source[e.Line].Text == line),
            line
        );
    }

    [Theory]
    [InlineData("        movlw   -40", "is it -40 or .40?")]
    [InlineData("        movlw   .40", null)]
    [InlineData("        movlw   .40-1", null)]
    public void A_sign_in_front_of_a_number_may_be_its_point(string line, string? doubt) =>
        Assert.Equal(doubt, Recover(line).DoubtOn("movlw"));

    [Fact]
    public void A_local_name_that_its_macro_does_not_use_is_doubted()
    {
        RecoveryResult result = Recover(
            "pause   macro   value\n        local   gain\n        movlw   value\nagain   addlw   -1\n        goto    again\n        endm\n        pause   3"
        );
        Assert.Equal("check gain", result.DoubtOn("local"));
    }

    [Theory]
    [InlineData(0)]
    [InlineData(5)]
    public void Ink_above_a_line_is_reported_though_the_line_has_a_doubt_of_its_own(int from)
    {
        // A line was passed over between the second and the third row; three letters of ink are left of it.
        OcrPage page = Scanned.Page(Head + "\n        movlw   0x3c" + Tail);
        page = page with
        {
            Unread =
            [
                .. Enumerable
                    .Range(from, 3)
                    .Select(static i => new InkSpot(
                        Scanned.Left + 6 * i,
                        Scanned.Top + 4 * Scanned.Leading - 5,
                        Scanned.Left + 6 * i + 4,
                        Scanned.Top + 4 * Scanned.Leading
                    )),
            ],
        };
        RecoveryResult result = Scanned.Recover(page);
        RecoveryEntry entry = Assert.Single(result.Entries, static e => e.Code == "missing-lines");
        Assert.Contains("movlw", result.Source[entry.Line].Text, StringComparison.Ordinal);
    }

    [Fact]
    public void On_a_page_too_dirty_to_see_what_was_passed_over_every_line_of_code_is_doubted_and_each_gap_reported()
    {
        RecoveryResult result = Scanned.Recover(
            Scanned.Page(Head + "        bsf     STATUS,RP0\n\n        incf    PORTB,f" + Tail) with
            {
                IsDirty = true,
            }
        );
        Assert.Equal("check this line", result.DoubtOn("bsf"));
        Assert.Contains(
            result.Entries,
            e => e.Code == "missing-lines" && result.Source[e.Line].Text.Contains("incf", StringComparison.Ordinal)
        );
    }

    [Fact]
    public void A_page_of_which_nothing_was_read_is_reported_where_its_lines_belong()
    {
        PrintedDocument first = Scanned.Document(
            Scanned.Page(Head + "        incf    PORTB,f\n        decf    PORTB,f")
        );
        PrintedDocument last = new(
            OcrLines.Of([
                Scanned.Page("        clrf    PORTA\n        clrf    PORTB\n        nop" + Tail) with
                {
                    Number = 3,
                },
            ])
        );
        var empty = new OcrPage(
            2,
            595,
            842,
            [],
            [.. Enumerable.Range(0, 9).Select(static i => new InkSpot(100 + 9 * i, 100, 105 + 9 * i, 106))]
        );
        RecoveryResult result = AsmLsp.Core.Recovery.DocumentRecovery.Run(
            new PrintedDocument([first.Pages[0], .. OcrLines.Of([empty]), last.Pages[0]])
        );
        RecoveryEntry entry = Assert.Single(result.Entries, static e => e.Code == "unread-page");
        Assert.Contains("PORTA", result.Source[entry.Line].Text, StringComparison.Ordinal);
        Assert.Contains("no text was found", entry.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_line_below_the_program_that_could_be_one_of_it_is_reported_with_its_words()
    {
        string text =
            Head
            + "        incf    PORTB,f\n        decf    PORTB,f\nloop    goto    loop\n\n                                          rctuhn now";
        Assert.Contains(
            Scanned.Recover(text).Entries,
            static e => e.Severity == Severity.Warning && e.Message.Contains("rctuhn", StringComparison.Ordinal)
        );
    }

    [Theory]
    [InlineData("        title   \"Signals\"", null)]
    [InlineData("title _ da      \"Signals\"", "check title")]
    public void A_line_that_makes_no_word_is_doubted_when_it_may_be_a_label_with_one(string line, string? doubt) =>
        Assert.Equal(doubt, Recover(line).DoubtOn("Signals"));

    [Fact]
    public void Settings_right_below_the_text_of_an_article_belong_to_the_program()
    {
        string text =
            "The circuit is simple enough to be built in one evening by anybody who has\n        include <p16f84a.inc>\n        --config _CP_OFF & _PWRTE_ON & _WDT_OFF & _RC_OSC\n        org     0\n        clrf    PORTB\n        clrf    PORTA\n        nop"
            + Tail;
        Assert.Contains(
            Scanned.Recover(text).Source.Lines,
            static l => l.Text.Contains("_PWRTE_ON", StringComparison.Ordinal)
        );
    }
}
