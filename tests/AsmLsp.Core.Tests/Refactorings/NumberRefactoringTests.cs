using static AsmLsp.Core.Tests.Refactorings.RefactoringCheck;

namespace AsmLsp.Core.Tests.Refactorings;

public class NumberRefactoringTests
{
    // Register addresses and bits of the PIC16F84A: data sheet DS35007B, figure 2-2 and table 2-1.
    [Fact]
    public void Register_and_bit_numbers_become_names() =>
        Makes(
            "numbers-to-names/line",
            Chip + " {|}bsf 3,5\n end",
            Chip + " bsf STATUS,RP0\n end",
            "Write STATUS,RP0 for 3,5 (same words)"
        );

    [Fact]
    public void Destination_number_becomes_its_letter() =>
        Makes(
            "numbers-to-names/line",
            Chip + "count equ 0x0C\n movf count,w\n {|}decf count,1\n end",
            Chip + "count equ 0x0C\n movf count,w\n decf count,f\n end"
        );

    [Fact]
    public void Full_address_says_the_bank_itself() =>
        Makes(
            "numbers-to-names/line",
            Chip + " bsf STATUS,RP0\n {|}clrf 85\n end",
            Chip + " bsf STATUS,RP0\n clrf TRISA\n end"
        );

    [Fact]
    public void Low_address_gets_the_name_of_the_bank_that_is_selected_there() =>
        Makes(
            "numbers-to-names/line",
            Chip + " bsf STATUS,RP0\n {|}clrf 6\n bcf STATUS,RP0\n clrf 6\n goto $\n end",
            Chip + " bsf STATUS,RP0\n clrf TRISB\n bcf STATUS,RP0\n clrf 6\n goto $\n end"
        );

    [Fact]
    public void Register_that_is_called_like_an_instruction_gets_its_other_name() =>
        Makes("numbers-to-names/line", Chip + " {|}clrf 81\n end", Chip + " clrf OPTION_REG\n end");

    [Fact]
    public void Low_address_in_bank_0_is_the_port() =>
        Makes("numbers-to-names/line", Chip + " {|}clrf 6\n goto $\n end", Chip + " clrf PORTB\n goto $\n end");

    [Fact]
    public void Low_address_where_the_bank_is_not_known_stays() =>
        OffersNo("numbers-to-names", Chip + " btfsc STATUS,Z\n bsf STATUS,RP0\n {|}clrf 6\n goto $\n end");

    [Fact]
    public void Line_that_nothing_reaches_stays() => OffersNo("numbers-to-names", Chip + " goto $\n {|}clrf 6\n end");

    [Fact]
    public void Variable_of_a_block_is_named() =>
        Makes(
            "numbers-to-names/line",
            Chip + " cblock 0x0C\nticks\n endc\n {|}decfsz 0C,1\n goto $-1\n goto $\n end",
            Chip + " cblock 0x0C\nticks\n endc\n decfsz ticks,F\n goto $-1\n goto $\n end"
        );

    [Fact]
    public void Constant_that_is_worth_the_same_by_chance_is_no_register() =>
        OffersNo("numbers-to-names", Chip + "speed equ 0x0C\n movlw speed\n {|}movwf 0C\n goto $\n end");

    [Fact]
    public void Two_variables_at_one_address_leave_the_number() =>
        OffersNo(
            "numbers-to-names",
            Chip + "a1 equ 0x0C\nb1 equ 0x0C\n movwf a1\n movwf b1\n {|}clrf 0C\n goto $\n end"
        );

    [Fact]
    public void Names_that_the_program_gave_itself_come_first() =>
        Makes(
            "numbers-to-names/line",
            " list p=16f84a\n __config 0x3FF1\nstatus equ 3\nrp0 equ 5\n bcf status,rp0\n {|}bsf 3,5\n end",
            " list p=16f84a\n __config 0x3FF1\nstatus equ 3\nrp0 equ 5\n bcf status,rp0\n bsf status,RP0\n end"
        );

    [Fact]
    public void Name_that_means_something_else_in_the_program_is_not_used() =>
        OffersNo("numbers-to-names", Chip + "STATUS equ 0x20\nRP0 equ 1\n movlw STATUS\n movlw RP0\n {|}bsf 3,5\n end");

    [Fact]
    public void Without_a_chip_no_number_is_a_register() => OffersNo("numbers-to-names", " {|}bsf 3,5\n end");

    [Fact]
    public void Bits_of_a_port_keep_their_number() => OffersNo("numbers-to-names", Chip + " {|}bsf PORTB,3\n end");

    [Fact]
    public void Tris_names_the_port() =>
        Makes("numbers-to-names/line", Chip + " {|}tris 6\n end", Chip + " tris PORTB\n end");

    [Fact]
    public void Selected_lines_are_written_together() =>
        Makes(
            "numbers-to-names/selection",
            Chip + " {|}bcf 3,5\n movlw 3\n bsf 3,5\n{|} bcf 3,2\n end",
            Chip + " bcf STATUS,RP0\n movlw 3\n bsf STATUS,RP0\n bcf 3,2\n end",
            "Write names for the numbers of registers, bits and destinations in the 2 selected lines that have some (same words)"
        );

    [Fact]
    public void Whole_file_is_written_but_for_lines_in_doubt() =>
        Makes(
            "numbers-to-names/file",
            Chip + " {|}bcf 3,5\n bsf 3,S ;? was 5\n bcf 3,2 ;? was Z\n movf 3,0\n end",
            Chip + " bcf STATUS,RP0\n bsf 3,S ;? was 5\n bcf 3,2 ;? was Z\n movf STATUS,W\n end"
        );

    [Fact]
    public void Numbers_under_a_decimal_radix_are_read_as_such() =>
        Makes("numbers-to-names/line", Chip + " radix dec\n {|}clrf 11\n end", Chip + " radix dec\n clrf INTCON\n end");

    [Fact]
    public void Body_of_a_macro_is_left_alone() =>
        OffersNo("numbers-to-names", Chip + "m macro x\n {|}bsf 3,5\n endm\n m 1\n end");

    [Fact]
    public void Names_become_numbers_again() =>
        Makes(
            "names-to-numbers/line",
            Chip + " {|}bsf STATUS,RP0\n end",
            Chip + " bsf 0x03,5\n end",
            "Write the numbers 0x03,5 for STATUS,RP0 (same words)"
        );

    [Fact]
    public void Own_names_are_no_numbers_of_the_chip() =>
        OffersNo("names-to-numbers", Chip + "led equ 3\nvar equ 0x0C\n {|}bsf var,led\n end");

    [Theory]
    [InlineData("hexadecimal", " movlw {|}.31\n end", " movlw 0x1F\n end")]
    [InlineData("decimal", " movlw {|}1F\n end", " movlw .31\n end")]
    [InlineData("binary", " movlw 0x{|}1F\n end", " movlw b'00011111'\n end")]
    [InlineData("character", " movlw 0x41{|}\n end", " movlw 'A'\n end")]
    [InlineData("hexadecimal", " movlw '{|}A'\n end", " movlw 0x41\n end")]
    [InlineData("hexadecimal", " radix dec\n movlw {|}31\n end", " radix dec\n movlw 0x1F\n end")]
    [InlineData("decimal", " radix dec\n movlw {|}0x1F\n end", " radix dec\n movlw 31\n end")]
    [InlineData("binary", " dw {|}0x1234\n end", " dw b'01001000110100'\n end")]
    [InlineData("hexadecimal", " dw {|}b'0000000000000101'\n end", " dw 0x0005\n end")]
    [InlineData("hexadecimal", "a equ {|}12h\n movlw a\n end", "a equ 0x12\n movlw a\n end", false)]
    [InlineData("hexadecimal", "a equ {|}12\n movlw a\n end", "a equ 0x12\n movlw a\n end")]
    public void Number_is_written_in_another_notation(string notation, string source, string after, bool offered = true)
    {
        if (offered)
            Makes("notation/" + notation, source, after);
        else
            OffersNo("notation/" + notation, source);
    }

    [Theory]
    [InlineData(" movlw {|}7\n end", "notation/character")]
    [InlineData(" movlw {|}7\n end", "notation/decimal")]
    [InlineData("x1 equ {|}41\n movwf x1\n end", "notation/character")]
    [InlineData(" org {|}10\n nop\n end", "notation/binary")]
    [InlineData(" movlw {|}27\n end", "notation/character")]
    [InlineData(" bsf 6,{|}3\n end", "notation")]
    [InlineData(" movlw 10 ; 1{|}0 times\n end", "notation")]
    [InlineData(" movlw {|}10 ; 10 times\n end", "notation")]
    [InlineData(" movlw {|}5 ;? was S\n end", "notation")]
    [InlineData(" movlw {|}0b00011111\n end", "notation")]
    [InlineData(" title \"{|}5\"\n end", "notation")]
    [InlineData(" list p=16f84a, n={|}60\n end", "notation")]
    public void Other_notations_are_not_offered_here(string source, string id) => OffersNo(id, source);

    [Fact]
    public void Title_says_both_forms() =>
        Assert.Contains(
            "notation/decimal: Write 0x1F as decimal: .31 (same words)",
            Titles(" movlw 0x{|}1F\n end"),
            StringComparison.Ordinal
        );

    [Fact]
    public void Constant_is_named_after_its_comment() =>
        Makes(
            "extract-constant/here",
            Chip + " org 0\n movlw {|}32 ; half second delay\n end",
            Chip + "HALF_SECOND_DELAY equ 32\n org 0\n movlw HALF_SECOND_DELAY ; half second delay\n end",
            "Give 32 the name HALF_SECOND_DELAY (by equ), here only (same words)"
        );

    [Fact]
    public void All_places_of_one_meaning_get_the_name() =>
        Makes(
            "extract-constant/all",
            Chip + "DOT     equ     0x0C\n movlw {|}0x32\n movwf DOT\n addlw 0x32\n movwf 0x32\n end",
            Chip
                + "DOT     equ     0x0C\nDOT_VALUE equ     0x32\n movlw DOT_VALUE\n movwf DOT\n addlw DOT_VALUE\n movwf 0x32\n end",
            "Give 0x32 the name DOT_VALUE (by equ), in both places where it means the same (same words)"
        );

    [Fact]
    public void Bit_of_one_register_is_named_apart_from_others() =>
        Makes(
            "extract-constant/all",
            Chip + " bsf PORTB,{|}3 ; red lamp\n bcf PORTB,3\n bsf PORTA,3\n end",
            Chip + "RED_LAMP equ 3\n bsf PORTB,RED_LAMP ; red lamp\n bcf PORTB,RED_LAMP\n bsf PORTA,3\n end"
        );

    [Fact]
    public void Name_that_is_taken_gets_a_number() =>
        Makes(
            "extract-constant/here",
            Chip + "tempo equ 5\n movlw tempo\n movlw {|}9 ; tempo\n end",
            Chip + "tempo equ 5\ntempo_2 equ 9\n movlw tempo\n movlw tempo_2 ; tempo\n end"
        );

    [Fact]
    public void Name_of_the_chip_is_not_taken() =>
        Makes(
            "extract-constant/here",
            Chip + " movlw {|}9 ; STATUS\n end",
            Chip + "STATUS_2 equ 9\n movlw STATUS_2 ; STATUS\n end"
        );

    [Fact]
    public void Number_that_would_read_otherwise_at_its_definition_is_written_safely() =>
        Makes(
            "extract-constant/here",
            Chip + "b1 equ 7\n movlw b1\n radix dec\n movlw {|}32 ; long wait\n end",
            Chip + "b1 equ 7\nlong_wait equ 0x20\n movlw b1\n radix dec\n movlw long_wait ; long wait\n end"
        );

    [Theory]
    [InlineData("m macro\n movlw {|}5\n endm\n m\n end")]
    [InlineData(" if 0\n movlw {|}5\n endif\n nop\n end")]
    [InlineData(" nop\n end\n movlw {|}5\n")]
    [InlineData("x equ {|}5\n movlw x\n end")]
    [InlineData(" movlw {|}300\n end")]
    [InlineData(" list p=16f84a\n bsf {|}3,5\n end")]
    [InlineData(" list p=16f84a\n bsf 3,{|}5\n end")]
    [InlineData(" list p=16f84a\n bsf STATUS,{|}5\n end")]
    public void Number_is_not_named_here(string source) => OffersNo("extract-constant", source);
}
