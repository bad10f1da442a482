using static AsmLsp.Core.Tests.Flow.Traps.TrapPrograms;

namespace AsmLsp.Core.Tests.Flow.Traps;

/// <summary>Memory, tables, the EEPROM: data sheets DS35007B (PIC16F84A) and DS40044B (PIC16F628A).</summary>
public class MemoryTrapTests
{
    [Theory]
    [InlineData("loop incf 0x0C,f\n goto loop\n end", "5 read-before-write")]
    [InlineData("loop decfsz 0x0C,f\n goto loop\n movlw 9\n movwf 0x0C\n goto loop\n end", "5 read-before-write")]
    [InlineData(" call wait\n goto 0\nwait decfsz 0x0C,f\n goto wait\n return\n end", "7 read-before-write")]
    public void A_register_that_is_read_first_is_a_note(string code, string expected) => Finds(expected, Head84 + code);

    [Theory]
    [InlineData(" clrf 0x0C\nloop incf 0x0C,f\n goto loop\n end")]
    [InlineData(" call init\nloop incf 0x0C,f\n goto loop\ninit clrf 0x0C\n return\n end")]
    [InlineData(" movlw 0x0C\n movwf FSR\n clrf INDF\nloop incf 0x0C,f\n goto loop\n end")]
    [InlineData(" btfsc PORTA,0\n clrf 0x0C\nloop incf 0x0C,f\n goto loop\n end")]
    [InlineData(" bcf 0x0C,1\nloop btfsc 0x0C,1\n goto loop\n goto loop\n end")]
    [InlineData(" goto main\n org 4\n clrf 0x0C\n retfie\nmain incf 0x0C,f\n goto main\n end")]
    [InlineData(" call a\n clrf 0x0C\n call a\nloop movf 0x0C,w\n goto loop\na nop\n return\n end")]
    public void A_register_that_may_have_a_value_is_left_alone(string code) =>
        Spares("read-before-write", Head84 + code);

    [Fact]
    public void A_table_entered_with_a_random_number_is_reported() =>
        Finds(
            "5 table-index-unset",
            Head84 + "m movf 0x0C,w\n call t\n movwf 0x0C\n goto m\nt addwf PCL,f\n retlw 1\n retlw 0\n end"
        );

    [Fact]
    public void A_table_entered_with_a_limited_number_is_a_note_at_most() =>
        Spares(
            "table-index-unset",
            Head84 + "m movf 0x0C,w\n andlw 1\n call t\n movwf 0x0C\n goto m\nt addwf PCL,f\n retlw 1\n retlw 0\n end"
        );

    private const string Table = "t addwf PCL,f\n retlw 1\n retlw 2\n retlw 3\n end";

    [Theory]
    [InlineData(
        " clrf 0x0C\nm movf 0x0C,w\n call t\n movwf PORTB\n incf 0x0C,f\nk btfss PORTA,0\n goto k\n goto m\n",
        "9 table-index-unlimited"
    )]
    [InlineData(
        " movlw 2\n movwf 0x0C\nm movf 0x0C,w\n call t\n movwf PORTB\n decf 0x0C,f\n goto m\n",
        "10 table-index-unlimited"
    )]
    public void An_index_without_a_limit_is_reported(string code, string expected) =>
        Finds(expected, Head84 + code + Table);

    [Theory]
    [InlineData(" clrf 0x0C\nm movf 0x0C,w\n andlw 3\n call t\n movwf PORTB\n incf 0x0C,f\n goto m\n")]
    [InlineData(
        " clrf 0x0C\nm movf 0x0C,w\n call t\n movwf PORTB\n incf 0x0C,f\n movlw 3\n xorwf 0x0C,w\n btfsc STATUS,Z\n clrf 0x0C\n goto m\n"
    )]
    [InlineData("r clrf 0x0C\nm movf 0x0C,w\n call t\n xorlw 3\n btfsc STATUS,Z\n goto r\n incf 0x0C,f\n goto m\n")]
    [InlineData(
        "r movlw 3\n movwf 0x0D\n clrf 0x0C\nm movf 0x0C,w\n call t\n incf 0x0C,f\n decfsz 0x0D,f\n goto m\n goto r\n"
    )]
    [InlineData("r clrf 0x0C\nm movf 0x0C,w\n call t\n movwf PORTB\n incf 0x0C,f\n btfsc 0x0C,1\n goto r\n goto m\n")]
    public void An_index_with_a_limit_is_left_alone(string code) =>
        Spares("table-index-unlimited", Head84 + code + Table);

    [Theory]
    [InlineData(" movlw 0x55\n movwf EECON2\n movlw 0xAA\n movwf EECON2\n nop\n bsf EECON1,WR\n")]
    [InlineData(" movlw 0x55\n movwf EECON2\n bsf EECON1,WR\n")]
    [InlineData(" bsf EECON1,WR\n")]
    public void A_write_without_its_sequence_is_reported(string code) =>
        Assert.Contains(
            Found(Head84 + " bsf STATUS,RP0\n bsf EECON1,WREN\n" + code + " goto $\n end"),
            static f => f.EndsWith(" eeprom-write-sequence", StringComparison.Ordinal)
        );

    private const string Sequence = " movlw 0x55\n movwf EECON2\n movlw 0xAA\n movwf EECON2\n bsf EECON1,WR\n";

    [Fact]
    public void A_write_that_nothing_allows_is_reported() =>
        Finds("10 eeprom-write-sequence", Head84 + " bsf STATUS,RP0\n" + Sequence + " goto $\n end");

    [Fact]
    public void A_whole_write_is_left_alone() =>
        Assert.Empty(Found(Head84 + " bsf STATUS,RP0\n bsf EECON1,WREN\n" + Sequence + " goto $\n end"));

    [Fact]
    public void A_write_with_interrupts_on_is_reported() =>
        Finds("17 eeprom-write-interrupted", Head84 + Interrupted(""));

    [Fact]
    public void A_write_with_interrupts_off_is_left_alone() =>
        Spares("eeprom-write-interrupted", Head84 + Interrupted(" bcf INTCON,GIE\n"));

    private static string Interrupted(string before) =>
        " goto main\n org 4\n bcf INTCON,INTF\n retfie\nmain bsf INTCON,INTE\n bsf INTCON,GIE\n bsf STATUS,RP0\n"
        + before
        + " bsf EECON1,WREN\n"
        + Sequence
        + " bcf STATUS,RP0\n goto $\n end";

    [Theory]
    [InlineData("x equ 0x58\n clrf x\n incf x,f\n goto $\n end", "6 no-memory-here")]
    [InlineData("x equ 0x58\n clrf x\n goto $\n end", "6 no-memory-here")]
    public void A_register_that_the_chip_has_not_is_reported(string code, string expected) =>
        Finds(expected, Head84 + code);

    [Fact]
    public void Only_a_variable_that_is_also_read_endangers_the_program() =>
        Assert.Equal(
            [AsmLsp.Core.Problems.Severity.Warning, AsmLsp.Core.Problems.Severity.Information],
            Report(Head84 + "x equ 0x58\n clrf x\n incf x,f\n clrf 0x59\n goto $\n end")
                .Where(static p => p.Code == "no-memory-here")
                .Select(static p => p.Severity)
        );

    [Theory]
    [InlineData("x equ 0x4F\n clrf x\n goto $\n end")]
    [InlineData(" bsf STATUS,RP0\n clrf 0xCF\n bcf STATUS,RP0\n goto $\n end")]
    public void A_register_that_the_chip_has_is_left_alone(string code) => Spares("no-memory-here", Head84 + code);

    [Fact]
    public void A_block_over_the_registers_of_the_chip_is_reported() =>
        Finds("6 variable-over-register", Head628 + " cblock 0x0C\n x\n endc\n clrf x\n goto $\n end");

    [Theory]
    [InlineData(" cblock 0x20\n x\n endc\n clrf x\n goto $\n end")]
    [InlineData(" cblock 5\n porta\n lamps\n endc\n clrf lamps\n goto $\n end")]
    public void A_block_in_memory_or_of_register_names_is_left_alone(string code) =>
        Spares("variable-over-register", Head628 + code);

    [Theory]
    [InlineData(" cblock 0x0C\nSTATUS\n endc\n clrf STATUS\n goto $\n end", "6 name-of-register")]
    [InlineData("EEDATA equ 0x20\n clrf EEDATA\n goto $\n end", "5 name-of-register")]
    public void A_name_of_the_chip_for_something_else_is_reported(string code, string expected) =>
        Finds(expected, Head84 + code);

    [Theory]
    [InlineData("STATUS equ 3\n clrf STATUS\n goto $\n end")]
    [InlineData("TRISB equ 6\n bsf STATUS,RP0\n clrf TRISB\n bcf STATUS,RP0\n goto $\n end")]
    [InlineData("status equ 0x20\n clrf status\n goto $\n end")]
    public void The_chips_own_registers_by_equates_are_left_alone(string code) =>
        Spares("name-of-register", Head84 + code);

    [Fact]
    public void Two_blocks_at_one_address_are_a_note() =>
        Finds(
            "9 same-address",
            Head84 + " cblock 0x0C\na1\n endc\n cblock 0x0C\nb1\n endc\n clrf a1\n clrf b1\n goto $\n end"
        );

    [Theory]
    [InlineData(" cblock 0x0C\na1\nb1\n endc\n clrf a1\n clrf b1\n goto $\n end")]
    [InlineData("a1 equ 0x0C\nb1 equ a1\n clrf a1\n clrf b1\n goto $\n end")]
    [InlineData(" cblock 0x0C\na1\n endc\nb1 equ 0x0C\n clrf a1\n movlw b1\n goto $\n end")]
    public void Names_that_do_not_meet_are_left_alone(string code) => Spares("same-address", Head84 + code);

    [Fact]
    public void A_routine_that_runs_into_another_file_is_a_note()
    {
        const string Program = Head84 + " call a\n call b\n goto 0\na nop\n include \"b.inc\"\n end";
        Assert.Contains("8 falls-into-next", Found(Program, ("b.inc", "b nop\n return\n")));
        Assert.DoesNotContain(
            "8 falls-into-next",
            Found(Program.Replace("a nop\n", "a return\n", StringComparison.Ordinal), ("b.inc", "b nop\n return\n"))
        );
    }

    [Fact]
    public void A_routine_that_runs_into_one_with_a_heading_is_a_note()
    {
        const string Program =
            Head84 + " call a\n call b\n goto 0\na nop\n;-----\n; waits a little\n;-----\nb nop\n return\n end";
        Finds("8 falls-into-next", Program);
        Spares("falls-into-next", Program.Replace("a nop\n", "a return\n", StringComparison.Ordinal));
        Spares("falls-into-next", Program.Replace("waits a little", "falls through", StringComparison.Ordinal));
        Spares("falls-into-next", Program.Replace(";-----\n", "", StringComparison.Ordinal));
        Spares("falls-into-next", Program.Replace(" call a\n", "", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(" goto $\nold clrf PORTB\n return\n end")]
    public void Code_that_nothing_reaches_is_a_note(string code) => Finds("6 unused-code", Head84 + code);

    [Theory]
    [InlineData(" call old\n goto $\nold clrf PORTB\n return\n end")]
    [InlineData(" goto $\n retlw 1\n retlw 2\n end")]
    [InlineData(" goto $\n dw 0x0180\n end")]
    public void Code_that_runs_and_data_are_left_alone(string code) => Spares("unused-code", Head84 + code);
}
