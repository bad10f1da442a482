using AsmLsp.Core.Text;
using static AsmLsp.Core.Tests.Refactorings.RefactoringCheck;

namespace AsmLsp.Core.Tests.Refactorings;

public class NameRefactoringTests
{
    [Fact]
    public void Name_is_written_as_defined_in_all_files()
    {
        var part = new SourceFile("part.inc", SourceText.From(" clrf COUNT\n"));
        Makes(
            "name-case/name",
            "Count equ 0x20\n movwf c{|}ount\n include part.inc\n incf Count,f\n decf cOUNT,f\n end",
            "Count equ 0x20\n movwf Count\n include part.inc\n incf Count,f\n decf Count,f\n end",
            "Write Count as it is defined in all 3 places of the program where it is not (same words)",
            part,
            " clrf Count\n"
        );
    }

    [Fact]
    public void Name_in_doubt_is_left_alone() =>
        Makes(
            "name-case/name",
            "Count equ 0x20\n movwf c{|}ount\n decf COUNT,f ;? was C0UNT\n end",
            "Count equ 0x20\n movwf Count\n decf COUNT,f ;? was C0UNT\n end"
        );

    [Fact]
    public void Name_of_the_chip_is_written_as_the_chip_has_it() =>
        Makes("name-case/name", Chip + " clrf p{|}ortb\n goto $\n end", Chip + " clrf PORTB\n goto $\n end");

    [Fact]
    public void Name_that_is_written_alike_everywhere_stays() =>
        OffersNo("name-case", "Count equ 0x20\n movwf Co{|}unt\n end");

    [Fact]
    public void Instructions_are_written_as_most_are() =>
        Makes(
            "operation-case/file",
            " movlw 1\n nop\n nop\n MO{|}VWF 20\nMOVLW1 Nop\n if 0\n ADDLW 1\n endif\n end",
            " movlw 1\n nop\n nop\n movwf 20\nMOVLW1 nop\n if 0\n addlw 1\n endif\n end",
            "Write all instructions of main.asm in small letters (3 are not) (same words)"
        );

    [Fact]
    public void Word_that_is_a_parameter_of_a_macro_stays() =>
        Makes(
            "operation-case/file",
            "m macro MOVLW\n MOVLW 1\n endm\n m incf\n nop\n nop\n NO{|}P\n end",
            "m macro MOVLW\n MOVLW 1\n endm\n m incf\n nop\n nop\n nop\n end"
        );

    [Fact]
    public void Word_that_is_a_parameter_of_a_macro_in_a_part_left_out_stays() =>
        Makes(
            "operation-case/file",
            " if 0\nm macro MOVLW\n MOVLW 1\n endm\n endif\n nop\n nop\n NO{|}P\n end",
            " if 0\nm macro MOVLW\n MOVLW 1\n endm\n endif\n nop\n nop\n nop\n end"
        );

    [Fact]
    public void Instructions_all_alike_stay() => OffersNo("operation-case", " mov{|}lw 1\n movwf 20\n end");

    [Fact]
    public void Instruction_that_is_as_most_are_is_no_place_to_ask() =>
        OffersNo("operation-case", " mov{|}lw 1\n MOVWF 20\n nop\n end");

    [Fact]
    public void Value_is_written_for_the_name_here() =>
        Makes(
            "inline-value/here",
            "wait equ 0x20\n movwf wa{|}it\n movlw wait\n end",
            "wait equ 0x20\n movwf 0x20\n movlw wait\n end",
            "Write 0x20 for wait here (same words)"
        );

    [Fact]
    public void Value_that_would_read_otherwise_is_written_safely() =>
        Makes(
            "inline-value/here",
            "wait equ 20\n radix dec\n movlw w{|}ait\n end",
            "wait equ 20\n radix dec\n movlw 0x20\n end"
        );

    [Fact]
    public void Value_is_written_everywhere_and_the_definition_becomes_a_comment()
    {
        var part = new SourceFile("part.inc", SourceText.From(" clrf count ; it\n"));
        Makes(
            "inline-value/all",
            "co{|}unt equ 0x20 ; turns\n movwf count\n include part.inc\n end",
            "; count equ 0x20 ; turns\n movwf 0x20\n include part.inc\n end",
            "Write 0x20 for count in both places where it is used, and make its definition a comment (same words)",
            part,
            " clrf 0x20 ; it\n"
        );
    }

    [Fact]
    public void Define_is_written_out() =>
        Makes(
            "inline-value/all",
            "#define LED 6,3\n bsf LE{|}D\n bcf LED\n end",
            "; #define LED 6,3\n bsf 6,3\n bcf 6,3\n end"
        );

    [Fact]
    public void Name_that_a_choice_asks_for_keeps_its_definition() =>
        OffersNo("inline-value/all", "count equ 0x20\n ifdef count\n movwf cou{|}nt\n endif\n end");

    [Theory]
    [InlineData("count equ 0x20 ;? was 2O\n movwf co{|}unt\n end")]
    [InlineData("count set 0x20\n movwf co{|}unt\n end")]
    [InlineData("lo{|}op goto loop\n end")]
    [InlineData(" cblock 0x20\ncount\n endc\n movwf co{|}unt\n end")]
    public void Value_is_not_offered_here(string source) => OffersNo("inline-value", source);

    [Fact]
    public void Macro_is_put_in_place_of_its_call() =>
        Makes(
            "expand-macro/call",
            "pause macro n, reg\n local again\n movlw n ; turns n\n movwf reg\nagain decfsz reg,f\n goto again\n endm\nstart pa{|}use 5, 0x20 ; short\n pause 6,0x21\n end",
            "pause macro n, reg\n local again\n movlw n ; turns n\n movwf reg\nagain decfsz reg,f\n goto again\n endm\nstart ; pause 5, 0x20 ; short\n movlw 5 ; turns n\n movwf 0x20\nagain_1 decfsz 0x20,f\n goto again_1\n pause 6,0x21\n end",
            "Put the 5 lines of macro pause in place of this call (same words)"
        );

    [Fact]
    public void Local_name_that_is_taken_gets_another_number() =>
        Makes(
            "expand-macro/call",
            "m macro\n local x\nx goto x\n endm\nX_1 nop\n goto X_1\n {|}m\n end",
            "m macro\n local x\nx goto x\n endm\nX_1 nop\n goto X_1\n        ; m\nx_2 goto x_2\n end"
        );

    [Theory]
    [InlineData("m macro\n exitm\n endm\n {|}m\n nop\n end")]
    [InlineData("m macro\n movlw 5 ;? was S\n endm\n {|}m\n nop\n end")]
    [InlineData("m macro\n nop\n endm\nn macro\n {|}m\n endm\n n\n end")]
    [InlineData("m macro\n nop\n endm\n n{|}op\n end")]
    public void Macro_is_not_expanded_here(string source) => OffersNo("expand-macro", source);

    [Theory]
    [InlineData(" {|}skpz\n nop\n end", " btfss STATUS,Z\n nop\n end")]
    [InlineData(
        "x  {|}BZ  there ; go\nthere nop\n end",
        "x  BTFSC  STATUS,Z ; go\n        GOTO  there\nthere nop\n end"
    )]
    [InlineData(" {|}movfw 0x20\n end", " movf 0x20,W\n end")]
    [InlineData(" {|}negf 0x20,w\n end", " comf 0x20,f\n        incf 0x20,w\n end")]
    [InlineData(" {|}subcf 0x20\n end", " btfsc STATUS,C\n        decf 0x20\n end")]
    public void Shorthand_is_written_as_instructions(string source, string after) =>
        Makes("expand-shorthand/instructions", Chip + source, Chip + after);

    [Fact]
    public void Shorthand_without_a_chip_is_written_with_numbers() =>
        Makes("expand-shorthand/instructions", " {|}setc\n end", " bsf 0x03,0\n end");

    [Fact]
    public void Instruction_about_a_flag_becomes_its_shorthand() =>
        Makes(
            "use-shorthand/shorthand",
            Chip + " {|}btfss STATUS,Z ; same?\n nop\n end",
            Chip + " skpz ; same?\n nop\n end",
            "Write the shorthand skpz for btfss STATUS,Z (same words)"
        );

    [Theory]
    [InlineData(" {|}btfss STATUS,RP0\n nop\n end")]
    [InlineData("skpz macro\n nop\n endm\n {|}btfss STATUS,Z\n nop\n end")]
    public void Shorthand_is_not_offered_here(string source) => OffersNo("use-shorthand", Chip + source);
}
