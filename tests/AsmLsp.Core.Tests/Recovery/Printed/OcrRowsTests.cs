using AsmLsp.Core.Doubts;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Tests.Recovery.Printed;

/// <summary>What OCR reads where no program has it is corrected before anything else is decided; what may be two things stays in question.</summary>
public class OcrRowsTests
{
    private const string Head =
        "        list    p=16f84a\n        include <p16f84a.inc>\n        __config _CP_OFF & _WDT_OFF & _XT_OSC\n        org     0\n";
    private const string Tail = "\nloop    goto    loop\n        end";

    private static RecoveryResult Recover(string lines) => Scanned.Recover(Head + lines + Tail);

    private static string LineWith(RecoveryResult result, string part) =>
        Assert.Single(result.Source.Lines.Select(static l => l.Text), t => t.Contains(part, StringComparison.Ordinal));

    [Theory]
    [InlineData("        movwf   PORTB   7lamp on", "movwf", ";lamp on")]
    [InlineData("        bsf     PORTB,1    3 horn off", "bsf", "; horn off")]
    [InlineData("        clrw               # no key yet", "clrw", "; no key yet")]
    [InlineData("        bcf     PORTB,2 } the valve", "bcf", "; the valve")]
    [InlineData("        movwf   PORTA   7 ; keep the rest", "movwf", "; ; keep the rest")]
    public void The_sign_of_a_remark_that_was_read_as_another_is_put_back(string line, string part, string remark)
    {
        RecoveryResult result = Recover(line);
        Assert.Contains(remark, LineWith(result, part), StringComparison.Ordinal);
        Assert.Null(result.DoubtOn(part));
    }

    [Theory]
    [InlineData("#turn the pump off now and wait", ";turn the pump off now and wait")]
    [InlineData("7; outputs of the board", ";; outputs of the board")]
    [InlineData("poeo----------------------------", ";oeo----------------------------")]
    public void A_sentence_or_a_ruled_line_gets_its_sign_back(string line, string made)
    {
        RecoveryResult result = Recover("        clrf    PORTB\n" + line + "\n        clrf    PORTA");
        Assert.Contains(made, result.Source.ToString(), StringComparison.Ordinal);
        Assert.DoesNotContain("is this an instruction", result.Source.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void An_operand_is_never_taken_for_a_remark()
    {
        RecoveryResult result = Recover("base    equ     0x20\n        movlw   base + 3\n        movwf   base  7Fh");
        Assert.Contains("base + 3", result.Source.ToString(), StringComparison.Ordinal);
        Assert.DoesNotContain(";Fh", result.Source.ToString(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("        movlw   Ox2F", "0x2F")]
    [InlineData("        movlw   OXA5", "0XA5")]
    [InlineData("        movlw   l5h", "15h")]
    public void A_number_whose_digits_became_their_letters_is_written_with_digits(string line, string number)
    {
        RecoveryResult result = Recover(line);
        Assert.Contains(number, LineWith(result, "movlw"), StringComparison.Ordinal);
        Assert.Null(result.DoubtOn("movlw"));
    }

    [Theory]
    [InlineData("        movft   PORTB,w", "movf    PORTB,w")]
    [InlineData("        MOVWEF  PORTB", "MOVWF   PORTB")]
    [InlineData("        movliw  0x12", "movlw   0x12")]
    [InlineData("        clirf   PORTB", "clrf    PORTB")]
    [InlineData("#defne  lamp    PORTB,1", "#define  lamp")]
    public void An_operation_that_is_near_to_one_word_alone_is_written_as_it_is(string line, string made)
    {
        RecoveryResult result = Recover(line);
        Assert.Contains(made.Split(' ')[0], result.Source.ToString(), StringComparison.Ordinal);
        Assert.Null(result.DoubtOn(line.Split(' ', StringSplitOptions.RemoveEmptyEntries)[1]));
    }

    [Theory]
    [InlineData("        bef     STATUS,0")]
    [InlineData("        movw    PORTB")]
    public void An_operation_that_may_be_two_stays_in_doubt(string line)
    {
        RecoveryResult result = Recover(line);
        string part = line.Split(' ', StringSplitOptions.RemoveEmptyEntries)[1];
        int at = result.Source.Lines.ToList().FindIndex(l => l.Text.Contains(part, StringComparison.Ordinal));
        Assert.Contains(result.Entries, e => e.Line == at && e.Severity != AsmLsp.Core.Problems.Severity.Information);
    }

    [Fact]
    public void A_number_with_a_capital_that_may_be_a_D_stays_in_doubt() =>
        Assert.NotNull(Recover("        movlw   OXCO").DoubtOn("movlw"));

    [Theory]
    [InlineData("pl6f84a.inc", "list    p=16f84a")]
    [InlineData("p16\u00A384a.inc", "list    p=16f84a")]
    [InlineData("p16f84a. inc", "list    p=l6f84a")]
    public void The_chip_is_known_though_its_name_was_misread(string file, string list)
    {
        RecoveryResult result = Scanned.Recover(
            $"        {list}\n        include <{file}>\n        __config _CP_OFF & _WDT_OFF & _XT_OSC\n        org     0\n        clrf    PORTB"
                + Tail
        );
        Assert.Contains("<p16f84a.inc>", result.Source.ToString(), StringComparison.Ordinal);
        Assert.False(result.Program.HasErrors);
        Assert.Null(result.DoubtOn("clrf"));
    }

    [Fact]
    public void A_name_that_was_read_with_a_digit_here_and_a_letter_there_is_written_alike_without_a_doubt()
    {
        RecoveryResult result = Recover(
            "templ   equ     0x20\ntemp2   equ     0x21\n        movwf   temp1\n        incf    temp1,f\n        clrf    temp2"
        );
        Assert.False(result.Program.HasErrors);
        Assert.All(["equ     0x20", "movwf", "incf"], part => Assert.Null(result.DoubtOn(part)));
    }

    [Fact]
    public void A_character_that_was_read_twice_is_written_once()
    {
        RecoveryResult result = Recover("TC1     equ     0x20\n        movwf   TC1l\n        movft   TC1,w");
        Assert.False(result.Program.HasErrors);
        Assert.Null(result.DoubtOn("movwf"));
        Assert.Null(result.DoubtOn("movf"));
    }

    [Fact]
    public void Two_names_that_are_both_defined_stay_two()
    {
        RecoveryResult result = Recover(
            "count1  equ     0x20\ncountl  equ     0x21\n        movwf   count1\n        clrf    countl"
        );
        Assert.Contains("movwf   count1", result.Source.ToString(), StringComparison.Ordinal);
        Assert.Contains("clrf    countl", result.Source.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_sign_between_an_operation_and_its_number_is_taken_out_and_asked_about()
    {
        RecoveryResult result = Recover("        sublw    = d'57'");
        Assert.DoesNotContain('=', DoubtMark.Remove(LineWith(result, "sublw")));
        Assert.NotNull(result.DoubtOn("sublw"));
    }

    [Fact]
    public void The_sign_of_a_negative_number_stays() =>
        Assert.Contains("-d'5'", LineWith(Recover("        addlw   -d'5'"), "addlw"), StringComparison.Ordinal);

    [Fact]
    public void A_number_without_the_point_that_the_others_have_is_asked_about()
    {
        RecoveryResult result = Recover(
            "        movlw   .25\n        movwf   PORTB\n        movlw   .60\n        movwf   PORTA\n        addlw   33\n        sublw   8"
        );
        Assert.Equal("is it 33 or .33?", result.DoubtOn("addlw"));
        Assert.Null(result.DoubtOn("sublw"));
    }

    [Fact]
    public void A_paste_with_the_mistakes_of_OCR_gets_its_care()
    {
        RecoveryResult result = PasteRecovery.Run(
            SourceText.From(
                Head
                    + "lamp    equ     Ox20\n        movlw   Ox7F\n        bef     STATUS,5\n        movwf   lamp    7all lamps on\n        movft   lamp,w"
                    + Tail
            )
        );
        Assert.False(result.Program.HasErrors);
        Assert.Contains("0x7F", LineWith(result, "movlw"), StringComparison.Ordinal);
        Assert.Contains(";all lamps on", LineWith(result, "movwf"), StringComparison.Ordinal);
        Assert.Contains(
            result.Entries,
            static e =>
                e.Code == DocumentCodes.OcrText && e.Message.StartsWith("OCR has made", StringComparison.Ordinal)
        );
    }

    [Fact]
    public void A_typed_text_with_one_slip_is_none_of_OCR()
    {
        RecoveryResult result = PasteRecovery.Run(
            SourceText.From(Head + "        movlw   Ox7F\n        movwf   PORTB\n        clrf    PORTA" + Tail)
        );
        Assert.DoesNotContain(result.Entries, static e => e.Code == DocumentCodes.OcrText);
    }

    [Fact]
    public void A_character_that_its_shape_proves_needs_no_doubt()
    {
        OcrPage page = Scanned.Page(Head + "        movlw   0x3c" + Tail);
        Assert.Equal("is it 0x3c or 0x3e?", Scanned.Recover(page).DoubtOn("movlw"));
        Assert.Null(Scanned.Recover(page.Unsure(4, 8, OcrCharacter.Proved)).DoubtOn("movlw"));
    }

    [Fact]
    public void A_register_that_the_program_has_again_and_again_is_not_one_that_it_has_nowhere()
    {
        const string chip = "        list    p=16f877a\n        include <p16f877a.inc>\n        org     0\n";
        Assert.Null(
            Scanned
                .Recover(chip + "        clrf    PORTB\n        bsf     PORTB,1\n        movwf   PORTB" + Tail)
                .DoubtOn("clrf")
        );
        Assert.Equal(
            "is it PORTB or PORTE?",
            Scanned
                .Recover(chip + "        clrf    PORTB\n        bsf     PORTE,1\n        movwf   PORTB" + Tail)
                .DoubtOn("clrf")
        );
    }

    [Fact]
    public void A_row_with_a_remark_of_its_own_is_no_silent_rest_of_the_remark_above()
    {
        RecoveryResult result = Recover(
            "        movwf   PORTA           ; the motor runs until the key is held for two seconds\n        crlf    PORTB ; all lamps off"
        );
        string line = LineWith(result, "all lamps off");
        Assert.True(
            DoubtMark.Find(line) is not null
                || result.Entries.Any(e =>
                    e.Severity != AsmLsp.Core.Problems.Severity.Information && result.Source[e.Line].Text == line
                )
        );
    }

    [Fact]
    public void A_bit_of_the_chip_as_a_value_is_asked_about() =>
        Assert.Equal("check Z", Recover("        retlw   Z").DoubtOn("retlw"));
}
