using static AsmLsp.Core.Tests.Refactorings.RefactoringCheck;

namespace AsmLsp.Core.Tests.Refactorings;

/// <summary>Banks of TRISB: data sheets DS35007B, figure 2-2 (PIC16F84A), and DS39582B, figure 2-3 (PIC16F877A).</summary>
public class FlowRefactoringTests
{
    [Fact]
    public void Missing_bank_is_selected_by_the_directive_where_the_program_has_no_way_yet() =>
        Makes(
            "select-bank/before",
            Chip + " movlw 0\n movwf{|} TRISB\n goto $\n end",
            Chip + " movlw 0\n        banksel TRISB\n movwf TRISB\n goto $\n end",
            "Select bank 1 for TRISB in this line: banksel TRISB (changes the program's words)"
        );

    [Fact]
    public void Missing_bank_is_selected_in_the_style_of_the_program_and_set_back_where_that_is_needed() =>
        Makes(
            "select-bank/before",
            Chip + " BCF STATUS,RP0\n MOVLW 0\n MOVWF{|} TRISB\n MOVWF PORTB\n GOTO $\n end",
            Chip
                + " BCF STATUS,RP0\n MOVLW 0\n        BSF STATUS,RP0\n MOVWF TRISB\n        BCF STATUS,RP0\n MOVWF PORTB\n GOTO $\n end"
        );

    [Fact]
    public void Label_moves_to_the_selection() =>
        Makes(
            "select-bank/before",
            Chip + "again movwf{|} TRISB\n banksel PORTB\n goto again\n end",
            Chip + "again banksel TRISB\n        movwf TRISB\n banksel PORTB\n goto again\n end"
        );

    [Fact]
    public void Only_the_bits_that_differ_are_changed() =>
        Makes(
            "select-bank/before",
            FourBanks + " bsf STATUS,RP1\n bcf STATUS,RP0\n clrf{|} EECON1\n goto $\n end",
            FourBanks + " bsf STATUS,RP1\n bcf STATUS,RP0\n        bsf STATUS,RP0\n clrf EECON1\n goto $\n end"
        );

    [Theory]
    [InlineData(" btfsc PORTA,0\n movwf{|} TRISB\n goto $\n end")]
    [InlineData(" banksel TRISB\n movwf{|} TRISB\n goto $\n end")]
    [InlineData(" movwf{|} PORTB\n goto $\n end")]
    [InlineData(" movwf{|} TRISB ;? was TRlSB\n goto $\n end")]
    public void Bank_is_not_selected_here(string source) => OffersNo("select-bank", Chip + source);

    [Fact]
    public void Selection_that_would_shift_a_relative_jump_is_refused() =>
        Refuses("select-bank/before", Chip + " nop\n movwf{|} TRISB\n goto $-2\n end");

    [Fact]
    public void Selection_that_would_shift_a_jump_by_number_is_refused() =>
        Refuses("select-bank/before", Chip + " goto 2\n nop\n movwf{|} TRISB\n nop\n goto 4\n end");

    [Fact]
    public void Bank_comes_back_where_another_path_joins_the_next_line() =>
        Makes(
            "select-bank/before",
            Chip + " bcf STATUS,RP0\n btfsc PORTA,0\n goto next\n movwf{|} TRISB\nnext movwf PORTB\n goto $\n end",
            Chip
                + " bcf STATUS,RP0\n btfsc PORTA,0\n goto next\n        bsf STATUS,RP0\n movwf TRISB\n        bcf STATUS,RP0\nnext movwf PORTB\n goto $\n end"
        );

    [Fact]
    public void Lines_after_that_wanted_the_bank_as_well_are_no_reason_to_go_back() =>
        Makes(
            "select-bank/before",
            Chip + " bsf STATUS,RP0\n clrf TRISB\nloop movwf{|} PORTB\n movwf PORTA\n goto loop\n end",
            Chip
                + " bsf STATUS,RP0\n clrf TRISB\nloop bcf STATUS,RP0\n        movwf PORTB\n movwf PORTA\n goto loop\n end"
        );

    [Fact]
    public void Waiting_for_the_bit_itself_may_loop_after_the_selection() =>
        Makes(
            "select-bank/before",
            FourBanks + " bsf STATUS,RP0\n clrf TRISB\n btfsc{|} ADCON0,GO\n goto $-1\n goto $\n end",
            FourBanks
                + " bsf STATUS,RP0\n clrf TRISB\n        bcf STATUS,RP0\n btfsc ADCON0,GO\n goto $-1\n goto $\n end"
        );

    [Fact]
    public void Selection_that_would_move_the_interrupt_routine_is_refused() =>
        Refuses(
            "select-bank/before",
            Chip + " movlw 0\n movwf{|} TRISB\n goto $\n nop\nisr bcf INTCON,T0IF\n retfie\n end"
        );

    [Fact]
    public void Bank_is_not_selected_where_jumps_may_go_anywhere() =>
        OffersNo("select-bank", Chip + " movwf{|} TRISB\n movlw 5\n movwf PCL\n nop\n nop\n goto $\n end");

    [Fact]
    public void Two_jumps_after_a_test_change_places() =>
        Makes(
            "invert-skip/jumps",
            Chip
                + "start btf{|}ss PORTA,0 ; key\n goto  up ; not pressed\n goto down ; pressed\nup goto start\ndown goto start\n end",
            Chip
                + "start btfsc PORTA,0 ; key\n goto  down ; pressed\n goto up ; not pressed\nup goto start\ndown goto start\n end",
            "Test the other way round: btfsc, and swap the two jumps after it (changes the program's words)"
        );

    [Fact]
    public void Shorthand_of_a_skip_is_turned_as_well() =>
        Makes(
            "invert-skip/jumps",
            Chip + "start SKP{|}NC\n goto up\n goto down\nup goto start\ndown goto start\n end",
            Chip + "start SKPC\n goto down\n goto up\nup goto start\ndown goto start\n end"
        );

    [Fact]
    public void Jump_over_one_instruction_is_not_needed() =>
        Makes(
            "invert-skip/over",
            Chip + "start BTF{|}SC PORTA,0\n goto over\n bsf PORTB,1\nover goto start\n end",
            Chip + "start BTFSS PORTA,0\n; goto over\n bsf PORTB,1\nover goto start\n end"
        );

    [Theory]
    [InlineData("start btf{|}ss PORTA,0\n goto up\nx goto down\nup goto start\ndown goto x\n end")]
    [InlineData("start btfss PORTA,1\n btf{|}ss PORTA,0\n goto up\n goto down\nup goto start\ndown goto start\n end")]
    [InlineData("start btf{|}ss PORTA,0\n nop\n goto start\n end")]
    [InlineData("start btf{|}ss PORTA,0\n goto over\n nop\n nop\nover goto start\n end")]
    [InlineData("start btf{|}ss PORTA,0 ;? was 1\n goto up\n goto down\nup goto start\ndown goto start\n end")]
    [InlineData("start btf{|}ss PORTA,0\n goto up\n goto down\nup addwf PCL,f\ndown goto start\n movwf PCL\n end")]
    public void Test_is_not_turned_here(string source) => OffersNo("invert-skip", Chip + source);

    [Fact]
    public void Test_whose_jump_is_jumped_to_is_refused() =>
        Refuses(
            "invert-skip/jumps",
            Chip + "start btf{|}ss PORTA,0\n goto up\n goto down\nup goto start+1\ndown goto start\n end"
        );

    [Fact]
    public void Relative_jump_that_would_go_wrong_is_refused() =>
        Refuses("invert-skip/over", Chip + "start btf{|}ss PORTA,0\n goto over\n nop\nover goto $-3\n end");
}
