using static AsmLsp.Core.Tests.Flow.Traps.TrapPrograms;

namespace AsmLsp.Core.Tests.Flow.Traps;

/// <summary>Flags and values: data sheet DS35007B, table 7-2 and register 2-1.</summary>
public class ArithmeticTrapTests
{
    private const string Named =
        " clrf PORTA\n clrf PORTB\n clrf TMR0\n movf PORTA,w\n movwf PORTB\n movf PORTA,w\n movwf PORTB\n clrf FSR\n";

    [Theory]
    [InlineData(" andwf 0x0F,w\n")]
    [InlineData(" iorwf 0x40,f\n")]
    [InlineData(" xorwf 1,w\n")]
    [InlineData(" movf 0x30,w\n")]
    public void A_number_in_a_program_of_names_is_reported(string line) =>
        Finds("13 number-as-register", Head84 + Named + line + " movwf PORTB\n goto $\n end");

    [Theory]
    [InlineData(" andlw 0x0F\n")]
    [InlineData(" movf 1,w\n")]
    [InlineData(" andwf 0x0F,w\n movwf 0x0F\n")]
    [InlineData(" movf 0x30,w\n movwf 0x30\n")]
    public void A_constant_or_a_register_that_is_used_is_left_alone(string line) =>
        Spares("number-as-register", Head84 + Named + line + " movwf PORTB\n goto $\n end");

    [Fact]
    public void A_program_that_writes_all_registers_as_numbers_is_left_alone() =>
        Spares("number-as-register", Head84 + " clrf 5\n clrf 6\n movf 5,w\n andwf 0x0F,w\n movwf 6\n goto $\n end");

    [Theory]
    [InlineData(" xorwf 0x0C\n btfsc STATUS,Z\n")]
    [InlineData(" subwf 0x0C\n btfsc STATUS,C\n")]
    public void A_comparison_that_overwrites_is_reported(string code) =>
        Finds("5 comparison-overwrites", Head84 + code + " nop\n goto $\n end");

    [Theory]
    [InlineData(" xorwf 0x0C,w\n btfsc STATUS,Z\n nop\n")]
    [InlineData(" xorwf 0x0C,f\n btfsc STATUS,Z\n nop\n")]
    [InlineData(" subwf 0x0C\n btfss STATUS,C\n decf 0x0D,f\n")]
    [InlineData(" xorwf 0x0C\n nop\n nop\n")]
    public void A_comparison_that_keeps_its_register_is_left_alone(string code) =>
        Spares("comparison-overwrites", Head84 + code + " goto $\n end");

    [Theory]
    [InlineData("loop incf 0x0C,f\n btfsc STATUS,C\n incf 0x0D,f\n goto loop\n end")]
    [InlineData("loop nop\n decf 0x0C,f\n btfss STATUS,C\n decf 0x0D,f\n goto loop\n end")]
    public void A_test_of_carry_after_a_step_is_reported(string code) =>
        Assert.Contains(Found(Head84 + code), static f => f.EndsWith(" carry-not-changed", StringComparison.Ordinal));

    [Theory]
    [InlineData("loop incf 0x0C,f\n btfsc STATUS,Z\n incf 0x0D,f\n goto loop\n end")]
    [InlineData("loop addwf 0x0C,f\n incf 0x0D,f\n btfss STATUS,C\n goto loop\n goto loop\n end")]
    [InlineData("loop rlf 0x0C,f\n decf 0x0D,f\n btfss STATUS,C\n goto loop\n goto loop\n end")]
    [InlineData(
        "loop call add\n incf 0x0D,f\n btfss STATUS,C\n goto loop\n goto loop\nadd addwf 0x0C,f\n return\n end"
    )]
    public void A_test_of_carry_that_something_sets_is_left_alone(string code) =>
        Spares("carry-not-changed", Head84 + code);

    [Theory]
    [InlineData("loop movf PORTA,w\n sublw 0xFF\n btfss STATUS,C\n")]
    [InlineData("loop movlw 0\n subwf PORTA,w\n btfss STATUS,C\n")]
    [InlineData("loop movf PORTA,w\n iorlw 1\n btfss STATUS,Z\n")]
    public void A_comparison_with_one_result_is_reported(string code) =>
        Finds("7 comparison-always-same", Head84 + code + " goto loop\n goto loop\n end");

    [Theory]
    [InlineData("loop movf PORTA,w\n sublw 0xFE\n btfss STATUS,C\n")]
    [InlineData("loop movf PORTA,w\n sublw 0\n btfss STATUS,C\n")]
    [InlineData("loop movf PORTA,w\n addlw 0\n btfss STATUS,Z\n")]
    [InlineData("loop movf PORTA,w\n iorlw 0\n btfss STATUS,Z\n")]
    public void A_comparison_with_two_results_is_left_alone(string code) =>
        Spares("comparison-always-same", Head84 + code + " goto loop\n goto loop\n end");

    [Theory]
    [InlineData(" incf 0x0C,f\n movlw .10\n subwf 0x0C,w\n btfss STATUS,C\n clrf 0x0C\n", "8 carry-sense-reversed")]
    [InlineData(" incf 0x0C,f\n movf 0x0C,w\n sublw .9\n btfsc STATUS,C\n clrf 0x0C\n", "8 carry-sense-reversed")]
    [InlineData(" incf 0x0C,f\n movlw .10\n subwf 0x0C,w\n btfss STATUS,C\n goto again\n", "8 carry-sense-reversed")]
    public void A_counter_that_is_cleared_below_its_limit_is_reported(string code, string expected) =>
        Finds(expected, Head84 + "loop" + code + " goto loop\nagain clrf 0x0C\n goto loop\n end");

    [Theory]
    [InlineData(" incf 0x0C,f\n movlw .10\n subwf 0x0C,w\n btfsc STATUS,C\n clrf 0x0C\n")]
    [InlineData(" incf 0x0C,f\n movf 0x0C,w\n sublw .9\n btfss STATUS,C\n clrf 0x0C\n")]
    [InlineData(" incf 0x0C,f\n movlw .10\n subwf 0x0C,w\n btfss STATUS,C\n clrf 0x0D\n")]
    public void A_counter_that_is_cleared_at_its_limit_is_left_alone(string code) =>
        Spares("carry-sense-reversed", Head84 + "loop" + code + " goto loop\n end");

    [Fact]
    public void A_turn_with_a_carry_from_power_up_is_a_note() =>
        Finds("7 carry-unknown", Head84 + " movlw 1\n movwf 0x0C\nloop rlf 0x0C,f\n goto loop\n end");

    [Theory]
    [InlineData(" bcf STATUS,C\nloop rlf 0x0C,f\n goto loop\n end")]
    [InlineData("loop rrf 0x0C,f\n btfsc STATUS,C\n nop\n goto loop\n end")]
    [InlineData("loop rlf 0x0C,w\n rlf 0x0C,f\n goto loop\n end")]
    [InlineData("loop rlf 0x0C,f\n rlf 0x0C,f\n movf 0x0C,w\n andlw 0xFC\n movwf PORTB\n goto loop\n end")]
    [InlineData(" call init\nloop rlf 0x0C,f\n goto loop\ninit addwf 0x0D,f\n return\n end")]
    public void A_turn_whose_carry_is_set_or_does_not_matter_is_left_alone(string code) =>
        Spares("carry-unknown", Head84 + code);

    [Fact]
    public void A_value_that_is_loaded_over_is_a_note() =>
        Finds("5 value-lost", Head84 + " movlw 0x30\n movf PORTA,w\n movwf PORTB\n goto $\n end");

    [Theory]
    [InlineData(" movlw 0x30\n movwf PORTB\n movf PORTA,w\n goto $\n end")]
    [InlineData(" movlw 0x30\n btfsc PORTA,0\n movlw 0x31\n movwf PORTB\n goto $\n end")]
    [InlineData(" movlw 0x30\n addlw 1\n movwf PORTB\n goto $\n end")]
    [InlineData(" btfsc PORTA,0\n goto b\n movlw 1\nb movlw 2\n movwf PORTB\n goto $\n end")]
    public void A_value_that_is_used_is_left_alone(string code) => Spares("value-lost", Head84 + code);
}
