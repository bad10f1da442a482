using static AsmLsp.Core.Tests.Flow.Traps.TrapPrograms;

namespace AsmLsp.Core.Tests.Flow.Traps;

/// <summary>Pins and configuration: data sheets DS35007B (PIC16F84A), DS40044B (PIC16F628A), DS41190C (PIC12F675), DS30292C (PIC16F87X).</summary>
public class PinTrapTests
{
    private const string Head675 =
        " list p=12f675\n #include <p12f675.inc>\n __config _CP_OFF & _WDT_OFF & _MCLRE_ON & _INTRC_OSC_NOCLKOUT\n org 0\n";

    [Theory]
    [InlineData("m bsf PORTB,0\n bcf PORTB,0\n goto m\n end", "5 direction-never-set")]
    [InlineData(
        " bsf STATUS,RP0\n bcf TRISB,1\n bcf STATUS,RP0\nm bsf PORTB,0\n bcf PORTB,0\n goto m\n end",
        "8 direction-never-set"
    )]
    [InlineData(" movlw 0xFE\n tris PORTB\nm bsf PORTB,3\n bcf PORTB,3\n goto m\n end", "7 direction-never-set")]
    [InlineData("m movf TMR0,w\n movwf PORTB\n goto m\n end", "6 direction-never-set")]
    [InlineData("m comf PORTB,f\n goto m\n end", "5 direction-never-set")]
    [InlineData("m bsf PORTB,0\n goto m\n end", "5 direction-never-set")]
    public void A_pin_that_stays_an_input_is_reported(string code, string expected) => Finds(expected, Head84 + code);

    [Theory]
    [InlineData(" clrf PORTB\n bcf PORTB,1\n goto $\n end")]
    [InlineData(" movlw 0xFF\n movwf PORTB\nm btfss PORTB,0\n goto m\n goto m\n end")]
    [InlineData(" movlw 0xFE\n tris PORTB\nm movf TMR0,w\n movwf PORTB\n goto m\n end")]
    [InlineData(" bsf STATUS,RP0\n clrf TRISB\n bcf STATUS,RP0\nm bsf PORTB,0\n bcf PORTB,0\n goto m\n end")]
    [InlineData(" bsf STATUS,RP0\n clrf PORTB\n bcf STATUS,RP0\nm bsf PORTB,0\n bcf PORTB,0\n goto m\n end")]
    [InlineData(" movlw 0\n tris PORTB\nm bsf PORTB,0\n bcf PORTB,0\n goto m\n end")]
    [InlineData(" movlw TRISB\n movwf FSR\n clrf INDF\nm bsf PORTB,0\n bcf PORTB,0\n goto m\n end")]
    [InlineData(
        " movlw TRISA\n movwf FSR\n clrf INDF\n incf FSR,f\n clrf INDF\nm bsf PORTB,0\n bcf PORTB,0\n goto m\n end"
    )]
    [InlineData(
        " bsf STATUS,RP0\n bcf TRISB,1\n movf 0x0C,w\n movwf STATUS\n clrf TRISB\n clrf STATUS\nm bsf PORTB,0\n bcf PORTB,0\n goto m\n end"
    )]
    [InlineData(" movf 0x0C,w\n movwf STATUS\n clrf TRISB\nm bsf PORTB,0\n bcf PORTB,0\n goto m\n end")]
    public void A_pin_that_may_be_an_output_is_left_alone(string code) => Spares("direction-never-set", Head84 + code);

    [Fact]
    public void A_pin_that_cannot_drive_is_reported() =>
        Finds("5 input-only-pin-driven", Head675 + " bsf GPIO,3\n goto $\n end");

    [Fact]
    public void A_pin_that_can_drive_is_left_alone() =>
        Spares("input-only-pin-driven", Head675 + " bsf GPIO,2\n goto $\n end");

    [Fact]
    public void An_open_drain_pin_set_high_is_a_note() =>
        Finds("7 open-drain-pin-high", Head84 + " movlw 0\n tris PORTA\n bsf PORTA,4\n goto $\n end");

    [Theory]
    [InlineData(" movlw 0\n tris PORTA\n bsf PORTA,3\n bcf PORTA,4\n goto $\n end")]
    [InlineData(" movlw 0x10\n tris PORTA\n bsf PORTA,4\n goto $\n end")]
    public void Other_pins_and_inputs_are_left_alone(string code) => Spares("open-drain-pin-high", Head84 + code);

    [Theory]
    [InlineData(" movlw 0x87 ; pull-ups on\n option\n goto $\n end", "6 pull-ups-off")]
    [InlineData(" bsf STATUS,RP0\n movlw 0xC0\n movwf OPTION_REG ; PORTB pullups\n goto $\n end", "7 pull-ups-off")]
    public void Pull_ups_that_a_comment_promises_are_reported(string code, string expected) =>
        Finds(expected, Head84 + code);

    [Theory]
    [InlineData(" movlw 0x07 ; pull-ups on\n option\n goto $\n end")]
    [InlineData(" movlw 0x87 ; pull-ups off\n option\n goto $\n end")]
    [InlineData(" movlw 0x87 ; no pull-ups\n option\n goto $\n end")]
    [InlineData(" movlw 0x87 ; timer from the clock\n option\n goto $\n end")]
    public void Pull_ups_that_are_on_or_not_wanted_are_left_alone(string code) => Spares("pull-ups-off", Head84 + code);

    [Fact]
    public void Pull_ups_that_are_chosen_but_never_turned_on_are_reported()
    {
        const string Choose = " bsf STATUS,RP0\n movlw 0x04\n movwf WPU\n";
        Finds("7 pull-ups-off", Head675 + Choose + " goto $\n end");
        Spares("pull-ups-off", Head675 + Choose + " bcf OPTION_REG,7\n goto $\n end");
    }

    [Fact]
    public void The_reset_pin_that_is_tested_is_reported()
    {
        Finds("5 reset-pin-read", Head675 + "m btfss GPIO,3\n goto m\n goto m\n end");
        Spares(
            "reset-pin-read",
            (Head675 + "m btfss GPIO,3\n goto m\n goto m\n end").Replace(
                "_MCLRE_ON",
                "_MCLRE_OFF",
                StringComparison.Ordinal
            )
        );
    }

    [Fact]
    public void The_reset_pin_as_an_input_that_nothing_reads_is_a_note()
    {
        string head = Head675.Replace("_MCLRE_ON", "_MCLRE_OFF", StringComparison.Ordinal);
        Finds("3 reset-pin-open", head + " goto $\n end");
        Spares("reset-pin-open", head + " movf GPIO,w\n goto $\n end");
        Spares("reset-pin-open", head + " btfsc GPIO,3\n goto $\n goto $\n end");
        Spares("reset-pin-open", Head675 + " goto $\n end");
    }

    [Fact]
    public void A_bit_of_a_port_beside_a_pin_that_changes_direction_is_a_note() =>
        Finds(
            "5 read-modify-write",
            Head84
                + "m bsf PORTB,7\n bsf STATUS,RP0\n bcf TRISB,0\n bcf STATUS,RP0\n nop\n nop\n nop\n bsf STATUS,RP0\n bsf TRISB,0\n bcf STATUS,RP0\n goto m\n end"
        );

    [Theory]
    [InlineData(
        "m bsf PORTB,7\n bcf PORTB,0\n bsf STATUS,RP0\n bcf TRISB,0\n bsf TRISB,0\n bcf STATUS,RP0\n goto m\n end"
    )]
    [InlineData(" bsf STATUS,RP0\n bcf TRISB,0\n bcf STATUS,RP0\nm bsf PORTB,7\n bcf PORTB,6\n goto m\n end")]
    public void A_port_whose_latch_is_set_or_whose_pins_stay_is_left_alone(string code) =>
        Spares("read-modify-write", Head84 + code);

    [Fact]
    public void A_port_with_pins_of_the_comparators_read_as_a_whole_is_a_note()
    {
        Finds("5 port-read-analog", Head628 + "m movf PORTA,w\n movwf 0x20\n goto m\n end");
        Spares("port-read-analog", Head628 + " movlw 7\n movwf CMCON\nm movf PORTA,w\n movwf 0x20\n goto m\n end");
        Spares("port-read-analog", Head628 + "m movf PORTA,w\n andlw 0x10\n movwf 0x20\n goto m\n end");
        Spares("port-read-analog", Head628 + "m movf PORTB,w\n movwf 0x20\n goto m\n end");
    }

    private const string Outputs = " bsf STATUS,RP0\n clrf TRISIO\n bcf STATUS,RP0\n";

    [Fact]
    public void An_output_that_another_one_turns_off_is_reported() =>
        Finds("9 analog-output-lost", Head675 + Outputs + "m bsf GPIO,0\n bsf GPIO,1\n goto m\n end");

    [Theory]
    [InlineData(
        " movlw 7\n movwf CMCON\n bsf STATUS,RP0\n clrf ANSEL\n clrf TRISIO\n bcf STATUS,RP0\nm bsf GPIO,0\n bsf GPIO,1\n goto m\n end"
    )]
    [InlineData(Outputs + "m bsf GPIO,0\n bsf GPIO,5\n goto m\n end")]
    [InlineData(Outputs + "m bsf GPIO,0\n bcf GPIO,1\n goto m\n end")]
    [InlineData("m bsf GPIO,0\n bsf GPIO,1\n goto m\n end")]
    public void Outputs_that_are_digital_or_alone_are_left_alone(string code) =>
        Spares("analog-output-lost", Head675 + code);

    [Fact]
    public void Low_voltage_programming_that_stays_on_is_a_note()
    {
        string head = Head628.Replace("_LVP_OFF", "_LVP_ON", StringComparison.Ordinal);
        Finds("3 low-voltage-on", head + " goto $\n end");
        Spares("low-voltage-on", Head628 + " goto $\n end");
        Spares("low-voltage-on", head + " bsf PORTB,4\n goto $\n end");
    }

    private const string HeadWatchdog =
        " list p=16f84a\n #include <p16f84a.inc>\n __config _CP_OFF & _WDT_ON & _XT_OSC\n org 0\n";

    [Theory]
    [InlineData(" clrwdt\nm btfsc PORTA,0\n bsf PORTB,0\n goto m\n end", "6 watchdog-not-in-loop")]
    [InlineData(" clrwdt\n call run\n goto 0\nrun nop\n goto run\n end", "8 watchdog-not-in-loop")]
    public void An_endless_loop_without_clrwdt_is_reported(string code, string expected) =>
        Finds(expected, HeadWatchdog + code);

    [Theory]
    [InlineData("m clrwdt\n btfsc PORTA,0\n bsf PORTB,0\n goto m\n end")]
    [InlineData("m call rest\n btfsc PORTA,0\n bsf PORTB,0\n goto m\nrest clrwdt\n return\n end")]
    [InlineData(" clrwdt\n btfsc PORTA,0\n goto $\n goto 0\n end")]
    [InlineData("m clrwdt\nw btfss PORTA,0\n goto w\n goto m\n end")]
    public void A_loop_that_clears_it_or_ends_is_left_alone(string code) =>
        Spares("watchdog-not-in-loop", HeadWatchdog + code);

    [Fact]
    public void A_watchdog_that_only_the_interrupt_clears_is_a_note()
    {
        const string Main = "main bsf INTCON,T0IE\n bsf INTCON,GIE\nm nop\n goto m\n end";
        Finds(
            "3 watchdog-in-interrupt",
            HeadWatchdog + " goto main\n org 4\n clrwdt\n bcf INTCON,T0IF\n retfie\n" + Main
        );
        Spares(
            "watchdog-in-interrupt",
            HeadWatchdog
                + " goto main\n org 4\n clrwdt\n bcf INTCON,T0IF\n retfie\n"
                + Main.Replace("m nop", "m clrwdt", StringComparison.Ordinal)
        );
    }

    private const string Convert =
        " bsf STATUS,RP0\n clrf TRISB\n clrf ADCON1\n bcf STATUS,RP0\n movlw 0x41\n movwf ADCON0\nm bsf ADCON0,GO\n";

    [Fact]
    public void A_result_that_is_read_at_once_is_reported() =>
        Finds("12 result-read-early", Head877 + Convert + " movf ADRESH,w\n movwf PORTB\n goto m\n end");

    [Theory]
    [InlineData("w btfsc ADCON0,GO\n goto w\n movf ADRESH,w\n movwf PORTB\n goto m\n end")]
    [InlineData(" call wait\n movf ADRESH,w\n movwf PORTB\n goto m\nwait return\n end")]
    [InlineData(" sleep\n movf ADRESH,w\n movwf PORTB\n goto m\n end")]
    public void A_result_that_is_waited_for_is_left_alone(string code) =>
        Spares("result-read-early", Head877 + Convert + code);
}
