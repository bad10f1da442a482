using static AsmLsp.Core.Tests.Flow.Traps.TrapPrograms;

namespace AsmLsp.Core.Tests.Flow.Traps;

/// <summary>Interrupts: data sheet DS35007B, sections 6.8 and 6.9.</summary>
public class InterruptTrapTests
{
    private const string Save = " movwf 0x0C\n swapf STATUS,w\n movwf 0x0D\n";
    private const string Restore = " swapf 0x0D,w\n movwf STATUS\n swapf 0x0C,f\n swapf 0x0C,w\n retfie\n";
    private const string Enable = "main bsf INTCON,T0IE\n bsf INTCON,GIE\n";
    private const string Computes = "loop movf 0x10,w\n movwf PORTB\n goto loop\n end";

    private static string Program(string handler, string main) => Head84 + " goto main\n org 4\n" + handler + main;

    [Fact]
    public void A_handler_that_loses_W_is_reported_at_its_first_instruction() =>
        Finds(
            "7 interrupt-saves-nothing",
            Program(" bcf INTCON,T0IF\n movlw 1\n addwf 0x10,f\n retfie\n", Enable + Computes)
        );

    [Fact]
    public void A_handler_after_a_jump_is_reported_at_its_own_place() =>
        Finds(
            "9 interrupt-saves-nothing",
            Program(" goto tick\n nop\ntick bcf INTCON,T0IF\n movlw 1\n addwf 0x10,f\n retfie\n", Enable + Computes)
        );

    [Theory]
    [InlineData(Save + " bcf INTCON,T0IF\n movlw 1\n addwf 0x10,f\n" + Restore, Enable + Computes)]
    [InlineData(" goto tick\ntick bcf INTCON,T0IF\n" + Save + " movlw 1\n" + Restore, Enable + Computes)]
    [InlineData(" bcf INTCON,T0IF\n bsf PORTB,0\n retfie\n", Enable + Computes)]
    [InlineData(" bcf INTCON,T0IF\n movlw 1\n addwf 0x10,f\n retfie\n", Enable + "loop goto loop\n end")]
    [InlineData(" bcf INTCON,T0IF\n movlw 1\n addwf 0x10,f\n retfie\n", Enable + "loop sleep\n nop\n goto loop\n end")]
    [InlineData(" bcf INTCON,T0IF\n movlw 1\n addwf 0x10,f\n retfie\n", "main bsf INTCON,T0IE\n" + Computes)]
    [InlineData(" bcf INTCON,T0IF\n movlw 1\n addwf 0x10,f\n retfie\n", "main bsf INTCON,GIE\n" + Computes)]
    [InlineData(
        " bcf INTCON,T0IF\n movlw 1\n addwf 0x10,f\n retfie\n",
        "main movlw 3\n movwf 0x10\n bsf INTCON,T0IE\n bsf INTCON,GIE\nloop goto loop\n end"
    )]
    [InlineData(
        " bcf INTCON,T0IF\n movlw 1\n addwf 0x10,f\n retfie\n",
        Enable + " movlw 3\n movwf 0x11\nloop goto loop\n end"
    )]
    public void A_handler_that_saves_or_hurts_nobody_is_left_alone(string handler, string main) =>
        Spares("interrupt-saves-nothing", Program(handler, main));

    [Fact]
    public void Flags_lost_between_a_comparison_and_its_test_are_reported() =>
        Finds(
            "7 interrupt-saves-nothing",
            Program(
                " bcf INTCON,T0IF\n incf 0x10,f\n retfie\n",
                Enable + "loop decf 0x11,f\n btfss STATUS,Z\n goto loop\n goto loop\n end"
            )
        );

    [Fact]
    public void Movf_after_the_restored_flags_is_reported() =>
        Finds(
            "13 interrupt-flags-changed",
            Program(
                Save + " bcf INTCON,T0IF\n swapf 0x0D,w\n movwf STATUS\n movf 0x0C,w\n retfie\n",
                Enable + "loop decf 0x11,f\n btfss STATUS,Z\n goto loop\n goto loop\n end"
            )
        );

    [Fact]
    public void A_flag_that_nothing_clears_is_reported() =>
        Finds("7 interrupt-flag-left", Program(" bsf PORTB,0\n retfie\n", Enable + Computes));

    [Fact]
    public void A_path_that_leaves_the_flag_is_reported_at_its_return() =>
        Finds(
            "11 interrupt-flag-left",
            Program(
                " btfss INTCON,T0IF\n retfie\n btfsc PORTA,0\n goto out\n retfie\nout bcf INTCON,T0IF\n retfie\n",
                Enable + Computes
            )
        );

    [Theory]
    [InlineData(" bcf INTCON,T0IF\n retfie\n")]
    [InlineData(" btfss INTCON,T0IF\n retfie\n bcf INTCON,T0IF\n retfie\n")]
    [InlineData(" btfsc INTCON,INTF\n goto key\n bcf INTCON,T0IF\n retfie\nkey bcf INTCON,INTF\n retfie\n")]
    [InlineData(" bcf INTCON,T0IE\n retfie\n")]
    [InlineData(" call clear\n retfie\nclear bcf INTCON,T0IF\n return\n")]
    [InlineData(" movlw 0xA0\n movwf INTCON\n retfie\n")]
    [InlineData("stop goto stop\n")]
    public void A_flag_that_is_cleared_is_left_alone(string handler) =>
        Spares(
            "interrupt-flag-left",
            Program(
                handler,
                Enable + (handler.Contains("INTF", StringComparison.Ordinal) ? " bsf INTCON,INTE\n" : "") + Computes
            )
        );

    [Fact]
    public void A_received_byte_clears_its_flag_by_itself() =>
        Spares(
            "interrupt-flag-left",
            Head877
                + " goto main\n org 4\n movf RCREG,w\n movwf 0x20\n retfie\nmain bsf INTCON,PEIE\n bsf STATUS,RP0\n bsf PIE1,RCIE\n bcf STATUS,RP0\n bsf INTCON,GIE\n goto $\n end"
        );

    [Theory]
    [InlineData(
        " nop\n nop\n nop\n nop\n bsf INTCON,T0IE\n bsf INTCON,GIE\n goto $\n end",
        "10 interrupt-without-handler"
    )]
    [InlineData(" movlw 0xA0\n movwf INTCON\n goto $\n end", "6 interrupt-without-handler")]
    public void Interrupts_without_a_handler_are_reported(string code, string expected) =>
        Finds(expected, Head84 + code);

    [Theory]
    [InlineData(" bsf INTCON,INTE\n sleep\n nop\n goto $\n end")]
    [InlineData(" bsf INTCON,GIE\n nop\n nop\n nop\n nop\n goto $\n end")]
    [InlineData(" goto main\n org 4\n bcf INTCON,T0IF\n retfie\nmain bsf INTCON,T0IE\n bsf INTCON,GIE\n goto $\n end")]
    public void Interrupts_that_are_handled_or_never_come_are_left_alone(string code) =>
        Spares("interrupt-without-handler", Head84 + code);

    [Fact]
    public void A_handler_that_nothing_enables_is_a_note() =>
        Finds("7 interrupts-never-enabled", Program(Save + Restore, "main bsf INTCON,T0IE\n" + Computes));

    [Theory]
    [InlineData(" retfie\n", "main goto $\n end")]
    [InlineData(Save + Restore, Enable + Computes)]
    [InlineData(Save + Restore, "main movf 0x10,w\n movwf INTCON\n" + Computes)]
    public void A_handler_that_may_run_or_is_only_a_guard_is_left_alone(string handler, string main) =>
        Spares("interrupts-never-enabled", Program(handler, main));

    [Fact]
    public void A_routine_with_its_own_register_in_both_programs_is_a_note() =>
        Finds(
            "17 shared-routine",
            Program(
                Save + " call out\n bcf INTCON,T0IF\n" + Restore,
                "out movwf 0x12\n return\n" + Enable + "loop call out\n goto loop\n end"
            )
        );

    [Fact]
    public void A_table_in_both_programs_is_left_alone() =>
        Spares(
            "shared-routine",
            Program(
                Save + " call out\n" + Restore,
                "out andlw 1\n addwf PCL,f\n retlw 1\n retlw 2\n" + Enable + "loop call out\n goto loop\n end"
            )
        );

    [Fact]
    public void A_routine_that_the_main_program_calls_before_interrupts_are_on_is_left_alone() =>
        Spares(
            "shared-routine",
            Program(
                Save + " call out\n" + Restore,
                "out movwf 0x12\n return\nmain call out\n bsf INTCON,T0IE\n bsf INTCON,GIE\n goto $\n end"
            )
        );
}
