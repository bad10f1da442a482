namespace AsmLsp.Core.Tests.Explain;

/// <summary>Opcodes, cycles and flags: data sheet DS35007B, table 7-2; registers and pins: the same data sheet.</summary>
public class HoverTests
{
    [Fact]
    public void An_instruction_says_what_this_line_comes_to() =>
        Assert.Equal(
            """
            BSF f,b: Sets one bit of the register to 1; the whole register is read and written back.

            - Here: bit 5 of STATUS (register 0x03, every bank); RP0: bank choice for direct access, low bit
            - 1 cycle (1 µs at 4 MHz); changes no flag
            - Word 0x1683 at address 0x0000
            """,
            ExplainCheck.At(ExplainCheck.Around(" b$0sf STATUS,RP0", "; clock 4 MHz"))
        );

    [Fact]
    public void Without_a_clock_an_instruction_has_cycles_and_no_times() =>
        Assert.Contains(
            "- 2 cycles; changes no flag",
            ExplainCheck.At(ExplainCheck.Around(" go$0to start")),
            StringComparison.Ordinal
        );

    [Theory]
    [InlineData(" addwf 0xC,w", "1 cycle; changes the flags C, DC, Z")]
    [InlineData(" decf 0xC,f", "1 cycle; changes the flag Z")]
    [InlineData(" decfsz 0xC,f", "1 cycle, 2 when it skips; changes no flag")]
    [InlineData(" btfss PORTB,0", "1 cycle, 2 when it skips; changes no flag")]
    [InlineData(" rlf 0xC,f", "1 cycle; changes the flag C")]
    [InlineData(" call start", "2 cycles; changes no flag")]
    [InlineData(" retlw 1", "2 cycles; changes no flag")]
    [InlineData(" return", "2 cycles; changes no flag")]
    [InlineData(" clrwdt", "1 cycle; changes the flags TO, PD")]
    [InlineData(" addwf PCL,f", "2 cycles, because it changes the program counter; changes the flags C, DC, Z")]
    public void Cycles_and_flags_are_those_of_the_data_sheet(string line, string expected) =>
        Assert.Contains(
            $"- {expected}\n",
            ExplainCheck.At(ExplainCheck.Around(line.Insert(2, "$0"))) + "\n",
            StringComparison.Ordinal
        );

    [Fact]
    public void A_shorthand_shows_its_words() =>
        Assert.Equal(
            """
            BZ: Jumps to the address when the result was 0.

            A shorthand for 2 instructions; a skip before it skips only the first:

                0000 1903  btfsc 0x03,2
                0001 2800  goto 0x0000

            - 2 words, 2 to 3 cycles
            - Changes no flag
            """,
            ExplainCheck.At(ExplainCheck.Around(" b$0z start"))
        );

    [Fact]
    public void A_register_shows_its_bits_and_pins() =>
        Assert.Equal(
            """
            PORTA: pins of port A

            - Bank 0 is selected here
            - Register 0x05, bank 0
            - After power-on: ---x xxxx (x unknown; - not there, reads 0)

              bit  name  pin  meaning
              4    RA4   3    level of pin RA4
              3    RA3   2    level of pin RA3
              2    RA2   1    level of pin RA2
              1    RA1   18   level of pin RA1
              0    RA0   17   level of pin RA0
            """,
            ExplainCheck.At(ExplainCheck.Around(" movf PORT$0A,w"))
        );

    [Fact]
    public void A_bit_of_a_port_names_its_package_pin() =>
        Assert.Equal(
            """
            RA4, bit 4 of PORTA: level of pin RA4

            - Worth 0x10 in the register; after power-on unknown
            - PORTA is register 0x05 (bank 0)
            - Pin 3 of PDIP-18 (T0CKI too); it only pulls low: going high needs an outside resistor
            """,
            ExplainCheck.At(ExplainCheck.Around(" bsf PORTA,RA$04"))
        );

    [Fact]
    public void A_bit_number_is_explained_by_the_register_before_it() =>
        Assert.StartsWith(
            "RP0, bit 5 of STATUS: bank choice for direct access, low bit",
            ExplainCheck.At(ExplainCheck.Around(" bsf 3,$05")),
            StringComparison.Ordinal
        );

    [Fact]
    public void A_bit_name_after_another_register_is_pointed_out() =>
        Assert.Contains(
            "Here it follows PORTB, which has no bit of that name: it means bit 2 of PORTB, RB2",
            ExplainCheck.At(ExplainCheck.Around(" bsf PORTB,Z$0")),
            StringComparison.Ordinal
        );

    [Fact]
    public void A_register_number_is_explained_as_a_register() =>
        Assert.StartsWith(
            "TRISB (register 0x86, bank 1)",
            ExplainCheck.At(ExplainCheck.Around(" movwf 8$06h")),
            StringComparison.Ordinal
        );

    [Theory]
    [InlineData(
        "$010",
        "10 is 0x10, decimal 16, binary 0001 0000\n\n- Bare digits are hexadecimal here because no radix is set"
    )]
    [InlineData(
        "$05",
        "5 is 0x05, decimal 5, binary 0000 0101\n\n- Bare digits are hexadecimal here because no radix is set; this one is the same in every base"
    )]
    [InlineData(".1$00", ".10 is 0x0A, decimal 10, binary 0000 1010\n\n- Decimal, by its notation")]
    [InlineData(
        "b'0100$00001'",
        "b'01000001' is 0x41, decimal 65, binary 0100 0001, character A\n\n- Binary, by its notation"
    )]
    [InlineData("$0'A'", "'A' is 0x41, decimal 65, binary 0100 0001, character A\n\n- A character, by its quotes")]
    [InlineData(
        "12C$0",
        "12C is 0x12C, decimal 300, binary 0000 0001 0010 1100\n\n- Bare digits are hexadecimal here because no radix is set\n- It does not fit into 8 bits: 0x2C goes into the instruction"
    )]
    public void A_literal_shows_its_value_in_every_base_and_the_rule(string literal, string expected) =>
        Assert.Equal(expected, ExplainCheck.At(ExplainCheck.Around(" movlw " + literal)));

    [Fact]
    public void A_literal_under_a_set_radix_says_so() =>
        Assert.Equal(
            "10 is 0x0A, decimal 10, binary 0000 1010\n\n- Bare digits are decimal here because the radix is set so",
            ExplainCheck.At(" list p=16f84a\n radix dec\n movlw 1$00\n end")
        );

    [Fact]
    public void A_label_names_its_callers() =>
        Assert.Equal(
            """
            Label wait at address 0x0003

            - Defined in line 5: short delay
            - Called twice: line 2, line 3
            - Jumped to once: line 6
            - Routine of 2 words
            """,
            ExplainCheck.At("\n call wait\n call wai$0t\n nop\nwait nop ; short delay\n goto wait\n end")
        );

    // 1 + 1 for the load; 9 laps of 3, the last decfsz 2; return 2.
    [Fact]
    public void A_routine_is_timed_at_its_label() =>
        Assert.Equal(
            """
            Label delay at address 0x0002

            - Defined in line 4
            - Called once: line 2
            - Routine of 5 words; 33 cycles (33 µs at 4 MHz) with the return, without the call
            """,
            ExplainCheck.At(
                "; clock 4 MHz\n call delay\n goto 0\ndela$0y movlw .10\n movwf 0x20\nlap decfsz 0x20,f\n goto lap\n return\n end"
            )
        );

    [Fact]
    public void A_label_that_nothing_reaches_says_so() =>
        Assert.EndsWith(
            "- No path leads here from the reset or an interrupt",
            ExplainCheck.At(" goto 0\nlo$0st nop\n goto lost\n end"),
            StringComparison.Ordinal
        );

    [Fact]
    public void The_selected_bank_is_reported_at_a_banked_register()
    {
        Assert.Contains(
            "- Bank 1 is selected here\n",
            ExplainCheck.At(ExplainCheck.Around(" bsf STATUS,RP0\n mov$0wf TRISB")),
            StringComparison.Ordinal
        );
        Assert.Contains(
            "- Bank 0 is selected here: this reaches PORTB (register 0x06, bank 0)\n",
            ExplainCheck.At(ExplainCheck.Around(" mov$0wf TRISB")),
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void An_operand_says_the_register_that_is_really_reached()
    {
        Assert.Contains(
            "- Bank 0 is selected here: this reaches PORTB (register 0x06, bank 0)\n",
            ExplainCheck.At(ExplainCheck.Around(" movwf TRI$0SB")),
            StringComparison.Ordinal
        );
        Assert.Contains(
            "- FSR is 0x0C here: this reaches general-purpose register 0x0C",
            ExplainCheck.At(ExplainCheck.Around(" movlw 0x0C\n movwf FSR\n clrf IN$0DF")),
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void Where_the_bank_depends_on_the_path_each_path_is_named()
    {
        string? text = ExplainCheck.At(
            " list p=16f84a\n include <p16f84a.inc>\n org 0\n btfsc 0x0C,0\n bsf STATUS,RP0\n movwf PO$0RTB\n goto $\n end"
        );
        Assert.Contains(
            "- The bank depends on the path here\n- Bank 0 (selected since the reset): this reaches PORTB (register 0x06, bank 0)\n- Bank 1 (selected in line 5): this reaches TRISB (register 0x86, bank 1)\n",
            text,
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void A_write_to_a_port_or_its_directions_names_the_pins()
    {
        const string Head =
            " list p=16f84a\n include <p16f84a.inc>\n org 0\n clrf PORTB\n bsf STATUS,RP0\n movlw 0xFC\n";
        Assert.Contains(
            "- RB0 (pin 6), RB1 (pin 7): output, low\n- RB2 (pin 8), RB3 (pin 9), RB4 (pin 10), RB5 (pin 11), RB6 (pin 12), RB7 (pin 13): input; low once it is an output\n",
            ExplainCheck.At(Head + " movwf TRI$0SB\n goto $\n end"),
            StringComparison.Ordinal
        );
        Assert.Contains(
            "- RB1 (pin 7): output, high\n",
            ExplainCheck.At(Head + " movwf TRISB\n bcf STATUS,RP0\n bs$0f PORTB,1\n goto $\n end"),
            StringComparison.Ordinal
        );
    }

    // By hand from data sheet DS35007B, table 7-2: MOVLW and MOVWF 2, nine laps of 3 and one of 2, RETURN 2, CALL 2.
    [Theory]
    [InlineData(" ca$0ll wait", "- The call, the routine and its return take 35 cycles (35 µs at 4 MHz)\n")]
    [InlineData(" nop\n got$0o again", "- Closes the loop from line 7: a lap takes 4 cycles (4 µs at 4 MHz)\n")]
    [InlineData(" btf$0sc PORTA,0\n nop\n nop", "- Both paths meet in line 9, after 2 cycles (2 µs at 4 MHz)\n")]
    [InlineData(
        " btf$0sc PORTA,0\n call wait\n nop",
        "- Both paths meet in line 9, after 2 to 36 cycles (2 µs to 36 µs at 4 MHz)\n"
    )]
    public void Calls_loops_and_selections_say_their_time(string lines, string time) =>
        Assert.Contains(
            time,
            ExplainCheck.At(
                " list p=16f84a\n include <p16f84a.inc>\n; clock 4 MHz\n org 0\n goto again\n nop\nagain"
                    + (lines.StartsWith(" nop", StringComparison.Ordinal) ? " nop\n" : "")
                    + lines
                    + "\n nop\n goto again\nwait movlw .10\n movwf 0x0C\nlap decfsz 0x0C,f\n goto lap\n return\n end"
            ),
            StringComparison.Ordinal
        );

    [Fact]
    public void A_label_at_the_head_of_a_loop_says_its_time() =>
        Assert.Contains(
            "- Loop up to line 7: 29 cycles (29 µs at 4 MHz) in all, a lap takes 3 cycles (3 µs at 4 MHz)",
            ExplainCheck.At(
                " list p=16f84a\n; clock 4 MHz\n org 0\n movlw .10\n movwf 0x0C\nla$0p decfsz 0x0C,f\n goto lap\n goto 0\n end"
            ),
            StringComparison.Ordinal
        );

    [Fact]
    public void A_constant_shows_its_value_and_where_it_is_defined() =>
        Assert.Equal(
            """
            Constant ticks = 0x32, decimal 50, binary 0011 0010, character 2

            - Defined in line 1: per second
            - Used once
            """,
            ExplainCheck.At("ticks equ .50 ; per second\n movlw tick$0s\n end")
        );

    [Fact]
    public void A_block_member_shows_its_register_and_bank() =>
        Assert.Equal(
            """
            Register count at 0x21

            - Bank 0 is selected here
            - 2 registers, up to 0x22
            - General-purpose register 0x21 (bank 0)
            - Defined in line 3
            - Used once
            """,
            ExplainCheck.At(" list p=16f628\n cblock 0x20\n temp,count:2\n endc\n clrf coun$0t\n end")
        );

    [Fact]
    public void A_define_of_a_port_pin_names_the_package_pin() =>
        Assert.Equal(
            """
            LED means PORTB,3

            - Bank 0 is selected here
            - RB3 (pin 9, LED): input; high once it is an output
            - Bit 3 of PORTB, RB3: level of pin RB3, pin 9 of PDIP-18
            - Defined in line 2
            - Used once
            """,
            ExplainCheck.At(" list p=16f84a\n#define LED PORTB,3\n bsf LE$0D\n end")
        );

    [Fact]
    public void A_macro_call_shows_its_parameters_and_words() =>
        Assert.Equal(
            """
            Macro pulse with pin, n, defined in line 2, called here.

            - pin is 2
            - n is 'A'
            - Makes 2 words, 2 cycles

                0000 1506  bsf 0x06,2
                0001 3041  movlw 0x41

            - A skip before this line skips only the first of these words.
            """,
            ExplainCheck.At(" list p=16f84a\npulse macro pin,n\n bsf PORTB,pin\n movlw n\n endm\n puls$0e 2,'A'\n end")
        );

    [Fact]
    public void A_parameter_of_a_macro_is_one() =>
        Assert.Equal(
            "pin is parameter 1 of the macro pulse (line 1): each call puts its own text in its place.",
            ExplainCheck.At("pulse macro pin\n bsf 6,pi$0n\n endm\n pulse 2\n end")
        );

    [Fact]
    public void The_chip_shows_memory_supply_and_pitfalls()
    {
        string? text = ExplainCheck.At(" list p=16f$0628\n nop\n end")!;
        Assert.StartsWith("PIC16F628; this program fills 1 of its 2,048 words.", text, StringComparison.Ordinal);
        Assert.Contains("- Package: PDIP-18, 18 pins", text, StringComparison.Ordinal);
        Assert.Contains(
            "Not digital after reset: RA0, RA1, RA2, RA3: comparators are on after reset (CMCON = 0). To free them:\n\n     movlw 0x07\n     movwf CMCON    ; bank 0",
            text,
            StringComparison.Ordinal
        );
        Assert.Contains("- Low-voltage programming, where it is left on, takes RB4", text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_one_time_programmable_chip_carries_its_caution() =>
        Assert.Contains(
            "One-time programmable in plastic: a mistake costs the chip.",
            ExplainCheck.At(" processor 16c$071\n nop\n end"),
            StringComparison.Ordinal
        );

    [Fact]
    public void A_chip_header_brings_built_in_names() =>
        Assert.StartsWith(
            "The built-in names of PIC16F84A: registers, bits and configuration settings. No such file is needed.",
            ExplainCheck.At(" #include <p16f$084a.inc>\n nop\n end"),
            StringComparison.Ordinal
        );

    [Fact]
    public void Here_is_this_words_address() =>
        Assert.StartsWith(
            "$ is the address of this line's own word: 0x0001.",
            ExplainCheck.At(" nop\n goto $0$\n end"),
            StringComparison.Ordinal
        );

    [Theory]
    [InlineData(" movf PORTB,$0w", "Destination W (0): the result goes to W; PORTB stays as it is.")]
    [InlineData(" movf PORTB,$0F", "Destination register (1): the result goes back to PORTB; W stays as it is.")]
    [InlineData(" movf PORTB,$00", "Destination W (0): the result goes to W; PORTB stays as it is.")]
    public void A_destination_says_where_the_result_goes(string line, string expected) =>
        Assert.Equal(expected, ExplainCheck.At(ExplainCheck.Around(line)));

    [Fact]
    public void A_bank_choice_shows_the_bank_and_its_words() =>
        Assert.Contains(
            "- Here: TRISB is at 0x086, so bank 1 is selected\n\n    0000 1683  bsf 0x03,5\n\n- 1 word, 1 cycle",
            ExplainCheck.At(ExplainCheck.Around(" bank$0sel TRISB")),
            StringComparison.Ordinal
        );

    [Theory]
    [InlineData(" $0 nop")]
    [InlineData("$0 nop")]
    [InlineData(" nop ; a com$0ment about STATUS")]
    [InlineData(" nop $0; comment")]
    [InlineData("$0")]
    [InlineData("; STA$0TUS")]
    public void Blanks_and_comments_say_nothing(string line) => Assert.Null(ExplainCheck.At(ExplainCheck.Around(line)));

    [Theory]
    [InlineData(" movf PORTB$0,w", "PORTB")]
    [InlineData(" movf $0PORTB,w", "PORTB")]
    [InlineData(" movf PORTB,w$0", "w")]
    [InlineData(" movf$0 PORTB,w", "movf")]
    [InlineData(" goto start$0", "start")]
    public void A_caret_at_either_end_of_a_thing_points_at_it(string line, string expected) =>
        Assert.Equal(expected, ExplainCheck.SpanAt(ExplainCheck.Around(line)));

    [Fact]
    public void A_line_is_explained_as_a_whole() =>
        Assert.Equal(
            """
            BSF f,b: Sets one bit of the register to 1; the whole register is read and written back.

            - Here: bit 5 of STATUS (register 0x03, every bank); RP0: bank choice for direct access, low bit
            - 1 cycle; changes no flag
            - Word 0x1683 at address 0x0000

            In this line:

            - Label start at address 0x0000, where the program starts after reset
            - STATUS: flags of the last result, bank choice, cause of the last reset
            - RP0, bit 5 of STATUS: bank choice for direct access, low bit
            """,
            ExplainCheck.Line(" list p=16f84a\nstart bsf STATUS,RP0 ; bank 1\n end", 2)
        );

    [Fact]
    public void A_line_that_a_condition_leaves_out_says_so() =>
        Assert.Contains(
            "The condition around this line leaves it out",
            ExplainCheck.At(" nop\n if 0\n no$0p\n endif\n end"),
            StringComparison.Ordinal
        );

    [Fact]
    public void No_column_of_any_line_makes_it_fail()
    {
        string source =
            " list p=16f628, r=dec\n #include \"x.inc\"\n#define P PORTB,\nm macro a\n bsf a,#v(1)\n endm\n m\n m 1,2,3\n movlw\n bcf ,\n goto (\n dw \"open\n __config\n __config 1,2,3\n org 0x2007\n dw\nx equ\n banksel\n ))&&'\n movlw 'AB'\n list p=\n processor\n pagesel nowhere\nset:\n é";
        for (int i = 0; i <= source.Length; i++)
            ExplainCheck.At(source.Insert(i, "$0"));
    }

    [Fact]
    public void A_jump_to_a_label_that_nothing_defines_has_no_address() =>
        Assert.Contains(
            "Here: the address is not known",
            ExplainCheck.At(" list p=16f84a\n g$0oto lost\n end"),
            StringComparison.Ordinal
        );
}
