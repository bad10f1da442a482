using AsmLsp.Core.Assembly;
using AsmLsp.Core.Flow;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Tests.Flow;

/// <summary>Banks, pages, reset values: data sheets DS35007B (PIC16F84A), DS40300C (PIC16F62X), DS30292C (PIC16F87X).</summary>
public class FlowCheckTests
{
    private const string Head84 =
        " list p=16f84a\n #include <p16f84a.inc>\n __config _CP_OFF & _WDT_OFF & _XT_OSC\n org 0\n";
    private const string Head628 =
        " list p=16f628\n #include <p16f628.inc>\n __config _CP_OFF & _WDT_OFF & _LVP_OFF & _XT_OSC\n org 0\n";
    private const string Head877 =
        " list p=16f877\n #include <p16f877.inc>\n __config _CP_OFF & _WDT_OFF & _LVP_OFF & _XT_OSC\n org 0\n";
    private const string Off = " __config _CP_OFF & _WDT_OFF & _XT_OSC\n";

    [Fact]
    public void A_direction_register_written_in_bank_0_is_reported() =>
        Assert.Equal(
            [
                "6 wrong-bank: TRISB is in bank 1, but bank 0 is always selected here: this reaches PORTB instead. Write PORTB if that is meant; if TRISB is meant, select bank 1.",
            ],
            Messages(Head84 + " movlw 0\n movwf TRISB\n goto $\n end")
        );

    [Fact]
    public void A_port_written_in_bank_1_is_reported() =>
        Finds("6 wrong-bank", Head84 + " bsf STATUS,RP0\n clrf PORTB\n goto $\n end");

    [Theory]
    // The port's name for its direction register, between two switches of the bank.
    [InlineData(" bsf STATUS,RP0\n movlw 0\n movwf PORTB\n bcf STATUS,RP0\n goto $\n end", Severity.Information)]
    [InlineData(" bsf STATUS,RP0\n bcf PORTB,0\n bcf STATUS,RP0\n goto $\n end", Severity.Information)]
    // A test asks for the level of the pin.
    [InlineData(" bsf STATUS,RP0\n btfsc PORTB,0\n nop\n bcf STATUS,RP0\n goto $\n end", Severity.Warning)]
    // The bank was left selected far above, and nothing says what is meant.
    [InlineData(" call set\n bsf PORTB,0\n goto $\nset bsf STATUS,RP0\n return\n end", Severity.Warning)]
    [InlineData(" call set\n bsf PORTB,0 ; TRISB\n goto $\nset bsf STATUS,RP0\n return\n end", Severity.Information)]
    [InlineData(" movlw 0\n movwf TRISB\n goto $\n end", Severity.Warning)]
    // The port is cleared under the name of the direction register, which is set up properly elsewhere.
    [InlineData(" bsf STATUS,RP0\n clrf TRISB\n bcf STATUS,RP0\n clrf TRISB\n goto $\n end", Severity.Information)]
    public void A_port_for_its_direction_register_is_a_warning_only_where_it_stops_the_program(
        string code,
        Severity severity
    ) =>
        Assert.Equal(
            [("wrong-bank", severity)],
            FlowProblems.Find(Assemble(Head84 + code)).Select(p => (p.Code, p.Severity))
        );

    // CMCON is 7 after reset on this chip (data sheet DS39582B, register 12-1).
    [Fact]
    public void A_register_in_the_wrong_bank_that_has_its_value_after_reset_is_a_note()
    {
        const string Head =
            " list p=16f877a\n #include <p16f877a.inc>\n __config _CP_OFF & _WDT_OFF & _LVP_OFF & _XT_OSC\n org 0\n";
        Assert.Equal(
            [Severity.Information, Severity.Warning],
            FlowProblems
                .Find(Assemble(Head + " movlw 7\n movwf CMCON\n movlw 2\n movwf CMCON\n goto $\n end"))
                .Select(p => p.Severity)
        );
    }

    [Fact]
    public void A_bank_left_selected_by_a_routine_is_seen_after_the_call() =>
        Finds(
            "6 wrong-bank",
            Head84 + " call setup\n bsf PORTB,0\n goto $\nsetup bsf STATUS,RP0\n clrf TRISB\n return\n end"
        );

    [Fact]
    public void An_equate_of_the_authors_own_counts_too() =>
        Finds(
            "8 wrong-bank",
            " list p=16f84\nstatus equ 3\ntrisb equ 86h\nrp0 equ 5\n __config 3FF1\n org 0\n movlw 0\n movwf trisb\n goto $\n end"
        );

    [Fact]
    public void A_port_of_the_authors_own_name_counts_where_the_direction_register_has_a_name_too()
    {
        const string Head = " list p=16f84\nstatus equ 3\nportb equ 6\n";
        const string Code = " __config 3FF1\n org 0\n bsf status,5\n clrf portb\n goto $\n end";
        Finds("8 wrong-bank", Head + "trisb equ 86h\n" + Code);
        Assert.Empty(Codes(Head + Code));
    }

    [Fact]
    public void A_variable_used_in_both_banks_is_reported() =>
        Finds("8 wrong-bank", Head628 + "temp equ 0x20\n clrf temp\n bsf STATUS,RP0\n incf temp,f\n goto $\n end");

    [Theory]
    [InlineData(" bsf STATUS,RP0\n clrf TRISB\n bcf STATUS,RP0\n clrf PORTB\n goto $\n end")]
    [InlineData(" movlw 0x20\n movwf STATUS\n clrf TRISB\n clrf STATUS\n clrf PORTB\n goto $\n end")]
    [InlineData(" banksel TRISB\n clrf TRISB\n banksel PORTB\n clrf PORTB\n goto $\n end")]
    [InlineData(" movlw 0\n tris PORTB\n goto $\n end")]
    [InlineData(" bsf STATUS,RP0\n clrf 6\n bcf STATUS,RP0\n goto $\n end")]
    [InlineData(" bsf STATUS,RP0\n movf 0xC,w\n clrf INTCON\n clrf FSR\n goto $\n end")]
    [InlineData(" btfsc PORTA,0\n bsf STATUS,RP0\n clrf TRISB\n goto $\n end")]
    [InlineData(" movf 0xC,w\n movwf STATUS\n clrf TRISB\n goto $\n end")]
    [InlineData(" call both\n bsf STATUS,RP0\n call both\n bcf STATUS,RP0\n goto $\nboth clrf PORTB\n return\n end")]
    public void A_bank_that_is_right_or_not_known_is_left_alone(string code) => Assert.Empty(Codes(Head84 + code));

    [Theory]
    [InlineData("temp equ 0x20\n bsf STATUS,RP0\n clrf temp\n incf temp,f\n goto $\n end")]
    [InlineData("temp equ 0x70\n clrf temp\n bsf STATUS,RP0\n incf temp,f\n goto $\n end")]
    [InlineData(" bsf STATUS,RP0\n bsf STATUS,RP1\n clrf TRISB\n goto $\n end")]
    public void A_variable_of_one_bank_or_of_all_is_left_alone(string code) => Assert.Empty(Codes(Head628 + code));

    [Fact]
    public void The_code_of_an_interrupt_knows_no_bank_where_it_may_come_in_any() =>
        Assert.Empty(
            Codes(
                Head84
                    + " goto main\n org 4\n clrf TRISB\n retfie\nmain bsf INTCON,GIE\n bsf STATUS,RP0\n bcf STATUS,RP0\n goto $\n end"
            )
        );

    [Fact]
    public void The_code_of_an_interrupt_knows_the_bank_that_is_selected_wherever_interrupts_are_on() =>
        Finds(
            "7 wrong-bank",
            Head84
                + " goto main\n org 4\n clrf TRISB\n retfie\nmain bsf STATUS,RP0\n bcf STATUS,RP0\n bsf INTCON,GIE\n goto $\n end"
        );

    [Fact]
    public void A_call_across_pages_without_pclath_is_reported() =>
        Assert.Equal(
            [
                "5 wrong-page: far is in page 1, but PCLATH always holds page 0 here: this call goes to 0x0000 instead. Set PCLATH before this line, for instance by 'pagesel far'.",
            ],
            Messages(Head877 + " call far\n goto $\n org 0x800\nfar return\n end")
        );

    [Fact]
    public void A_page_left_selected_after_a_call_is_reported() =>
        Finds("7 wrong-page", Head877 + " pagesel far\n call far\n goto 2\n org 0x800\nfar return\n end");

    [Theory]
    [InlineData(" pagesel far\n call far\n pagesel $\n goto $\n org 0x800\nfar return\n end")]
    [InlineData(" lcall far\n clrf PCLATH\n goto $\n org 0x800\nfar return\n end")]
    [InlineData(
        " movlw high far\n movwf PCLATH\n call far\n clrf PCLATH\nloop goto loop\n org 0x800\nfar return\n end"
    )]
    [InlineData(" movf 0x20,w\n movwf PCLATH\n call far\n goto $\n org 0x800\nfar return\n end")]
    public void A_page_that_is_right_or_not_known_is_left_alone(string code) => Assert.Empty(Codes(Head877 + code));

    [Fact]
    public void Nine_calls_inside_each_other_are_too_many()
    {
        string source =
            Head84
            + " call r1\n goto $\n"
            + string.Concat(Enumerable.Range(1, 8).Select(i => $"r{i} call r{i + 1}\n return\n"))
            + "r9 return\n end";
        Assert.Equal(
            [
                "21 stack-too-deep: This call is number 9 of calls inside each other (r1, r2, r3, r4, r5, r6, r7, r8, r9), but the stack holds 8 return addresses: the first one is lost, and its RETURN goes astray.",
            ],
            Messages(source)
        );
    }

    [Fact]
    public void Eight_calls_inside_each_other_fit() =>
        Assert.Empty(
            Codes(
                Head84
                    + " call r1\n goto $\n"
                    + string.Concat(Enumerable.Range(1, 7).Select(i => $"r{i} call r{i + 1}\n return\n"))
                    + "r8 return\n end"
            )
        );

    [Fact]
    public void Calls_that_are_used_as_jumps_are_left_alone() =>
        Assert.Empty(Codes(Head84 + "start call next\nnext call start\n goto start\n end"));

    [Fact]
    public void A_program_without_a_closing_jump_runs_off_the_end() =>
        Assert.Equal(
            [
                "6 runs-off-the-end: After this instruction the program continues at 0x0002, where nothing is placed. Close it with a jump, a return or 'goto $'. Erased memory does nothing, so the program may come round to address 0 and begin again.",
            ],
            Messages(Head84 + " clrf PORTA\n bsf PORTA,0\n end")
        );

    [Fact]
    public void A_skip_over_the_last_jump_runs_off_the_end() =>
        Finds("6 runs-off-the-end", Head84 + "wait btfss PORTA,0\n btfsc PORTA,1\n goto wait\n end");

    [Fact]
    public void Running_into_text_is_reported() =>
        Finds("5 runs-off-the-end", Head84 + " clrf PORTA\n da \"AB\"\n end");

    [Fact]
    public void Running_into_the_interrupt_through_a_gap_is_reported() =>
        Finds("5 runs-off-the-end", Head84 + " clrf PORTA\n org 4\n retfie\n end");

    [Theory]
    [InlineData(" clrf PORTA\n sleep\n end")]
    [InlineData(" call main\nmain goto $\n end")]
    [InlineData(" call main\n org 20\nmain goto main\n end")]
    [InlineData(" nop\n org 5\n goto $\n end")]
    [InlineData(" clrf PORTA\n dw 0x2800\n end")]
    [InlineData("loop movlw 1\n call table\n goto loop\ntable addwf PCL,f\n retlw 1\n retlw 2\n end")]
    [InlineData(" movf 0xC,w\n andlw 1\n addwf PCL,f\n goto a\n goto b\na goto $\nb goto $\n end")]
    public void A_program_that_closes_is_left_alone(string code) => Assert.Empty(Codes(Head84 + code));

    // Data sheet DS41190G: the factory writes a RETLW to the last word of the PIC12F675.
    [Fact]
    public void The_factorys_calibration_word_is_a_routine() =>
        Assert.Empty(
            Codes(
                " list p=12f675\n #include <p12f675.inc>\n __config _WDT_OFF & _INTRC_OSC_NOCLKOUT\n org 0\n call 3FF\n bsf STATUS,RP0\n movwf OSCCAL\n bcf STATUS,RP0\n goto $\n end"
            )
        );

    [Fact]
    public void A_watchdog_that_is_never_cleared_is_reported() =>
        Finds(
            "2 watchdog-never-cleared",
            " list p=16f84a\n __config _CP_OFF & _WDT_ON & _XT_OSC\n org 0\n goto $\n end"
        );

    [Theory]
    [InlineData(" list p=16f84a\n __config _CP_OFF & _WDT_ON & _XT_OSC\n org 0\nm clrwdt\n goto m\n end")]
    [InlineData(" list p=16f84a\n __config _CP_OFF & _WDT_ON & _XT_OSC\n org 0\nm sleep\n goto m\n end")]
    [InlineData(" list p=16f84a\n __config _CP_OFF & _WDT_OFF & _XT_OSC\n org 0\nm goto m\n end")]
    [InlineData(" list p=16f84a\n org 0\nm goto m\n end")]
    public void A_watchdog_that_is_cleared_off_or_not_set_is_left_alone(string source) => Assert.Empty(Codes(source));

    [Fact]
    public void A_pin_of_the_comparators_read_as_a_digital_one_is_reported() =>
        Assert.Equal(
            [
                "5 pin-not-digital: RA2 always reads 0 here: comparators are on after reset (CMCON = 0), and the program never writes CMCON. Make the pin digital at the start: movlw 0x07 / movwf CMCON.",
            ],
            Messages(Head628 + "m btfss PORTA,2\n goto m\n goto $\n end")
        );

    [Theory]
    [InlineData(" movlw 7\n movwf CMCON\nm btfss PORTA,2\n goto m\n goto $\n end")]
    [InlineData(" movlw 7\n movwf 1F\nm btfss PORTA,2\n goto m\n goto $\n end")]
    [InlineData("m btfss PORTB,2\n goto m\n goto $\n end")]
    [InlineData("m btfss PORTA,4\n goto m\n goto $\n end")]
    [InlineData(" bsf PORTA,2\n goto $\n end")]
    [InlineData(" movlw CMCON\n movwf FSR\n movlw 7\n movwf INDF\nm btfss PORTA,2\n goto m\n goto $\n end")]
    public void A_pin_that_is_digital_or_may_be_is_left_alone(string code) => Assert.Empty(Codes(Head628 + code));

    [Fact]
    public void Every_owner_of_a_pin_must_be_switched()
    {
        const string Head =
            " list p=12f675\n #include <p12f675.inc>\n __config _WDT_OFF & _INTRC_OSC_NOCLKOUT\n org 0\n movlw 7\n movwf CMCON\n";
        Finds("7 pin-not-digital", Head + "m btfss GPIO,0\n goto m\n goto $\n end");
        Assert.Empty(
            Codes(Head + " bsf STATUS,RP0\n clrf ANSEL\n bcf STATUS,RP0\nm btfss GPIO,0\n goto m\n goto $\n end")
        );
    }

    [Fact]
    public void The_pin_of_low_voltage_programming_is_reported_while_that_is_on()
    {
        Finds("3 low-voltage-pin-used", " list p=16f628\n __config _WDT_OFF & _XT_OSC\n bsf PORTB,4\n goto $\n end");
        Assert.Empty(Codes(" list p=16f628\n __config _WDT_OFF & _XT_OSC & _LVP_OFF\n bsf PORTB,4\n goto $\n end"));
        Assert.Empty(Codes(" list p=16f628\n __config _WDT_OFF & _XT_OSC\n bsf PORTB,3\n goto $\n end"));
    }

    [Fact]
    public void A_table_outside_the_block_that_pclath_holds_is_reported() =>
        Assert.Equal(
            [
                "9 table-crosses-border: This jump goes wrong for every word of the table after it: PCLATH always holds 0x00 here, and those words start at 0x0101. Set PCLATH from 'high' of the table before the jump, and keep the table within one block of 256 words.",
            ],
            Messages(Head84 + "m movlw 1\n call t\n goto m\n org 100\nt addwf PCL,f\n retlw 1\n retlw 2\n end")
        );

    [Fact]
    public void A_table_across_a_border_is_reported() =>
        Finds(
            "9 table-crosses-border",
            Head84 + "m movlw 1\n call t\n goto m\n org 0FD\nt addwf PCL,f\n dt 1,2,3,4\n end"
        );

    [Theory]
    [InlineData("m movlw 1\n call t\n goto m\nt addwf PCL,f\n retlw 1\n retlw 2\n end")]
    [InlineData(
        "m movlw high t\n movwf PCLATH\n movlw 1\n call t\n clrf PCLATH\n goto m\n org 100\nt addwf PCL,f\n retlw 1\n retlw 2\n end"
    )]
    [InlineData(
        "m movf 0xC,w\n movwf PCLATH\n movlw 1\n call t\n goto m\n org 100\nt addwf PCL,f\n retlw 1\n retlw 2\n end"
    )]
    public void A_table_that_can_be_reached_is_left_alone(string code) => Assert.Empty(Codes(Head84 + code));

    [Fact]
    public void A_skip_over_a_macro_of_two_words_is_reported() =>
        Assert.Equal(
            [
                "9 skips-into-macro: This skips only one word, but led after it makes 2 words: the skip lands in the middle of them. Skip over a 'goto' instead.",
            ],
            Messages(Head84 + "led macro\n movlw 1\n movwf PORTB\n endm\n btfsc PORTA,0\n led\n goto $\n end")
        );

    [Theory]
    [InlineData(" btfsc PORTA,0\n bz 0\n goto $\n end")]
    [InlineData(" btfsc PORTA,0\n negf 0xC,f\n goto $\n end")]
    public void A_skip_over_a_shorthand_of_two_words_is_reported(string code) =>
        Finds("5 skips-into-macro", Head84 + code);

    [Theory]
    [InlineData("one macro\n bsf PORTB,0\n endm\n btfsc PORTA,0\n one\n goto $\n end")]
    [InlineData("two macro\n btfsc PORTA,0\n bsf PORTB,0\n bcf PORTB,1\n endm\n two\n goto $\n end")]
    [InlineData(" btfsc PORTA,0\n tstf 0xC\n goto $\n end")]
    [InlineData(" btfsc PORTA,0\n goto $\n goto $\n end")]
    [InlineData(" btfsc PORTA,0\n banksel PORTB\n goto $\n end")]
    public void A_skip_over_one_word_is_left_alone(string code) => Assert.Empty(Codes(Head84 + code));

    [Fact]
    public void Nothing_is_said_while_the_program_has_errors() =>
        Assert.Empty(FlowProblems.Find(Assemble(" list p=16f84a\n" + Off + " movwf TRISB\n movlw nothing\n end")));

    [Fact]
    public void Every_problem_in_a_macro_names_the_calls()
    {
        Problem problem = Assert.Single(
            FlowProblems.Find(Assemble(Head84 + "m macro\n clrf TRISB\n endm\n m\n m\n goto $\n end"))
        );
        Assert.Equal((5, 2), (problem.Place.Line, problem.Related.Length));
    }

    private static void Finds(string expected, string source) => Assert.Equal([expected], Codes(source));

    private static string[] Codes(string source) =>
        [.. FlowProblems.Find(Assemble(source)).Select(p => $"{p.Place.Line + 1} {p.Code}")];

    private static string[] Messages(string source) =>
        [.. FlowProblems.Find(Assemble(source)).Select(p => $"{p.Place.Line + 1} {p.Code}: {p.Message}")];

    private static ProgramAnalysis Assemble(string source)
    {
        ProgramAnalysis program = Assembler.Assemble(new SourceFile("test.asm", SourceText.From(source)));
        Assert.True(
            !program.HasErrors || source.Contains("nothing", StringComparison.Ordinal),
            string.Join("\n", program.Problems.Select(p => p.Message))
        );
        return program;
    }
}
