namespace AsmLsp.Core.Tests.Assembly;

/// <summary>Whole small programs; the words are worked out from the opcode table of data sheet DS35007B, table 7-2.</summary>
public class ProgramTests
{
    [Fact]
    public void A_small_program_gives_its_words() =>
        Check.Gives(
            "0:2804 3FFF 3FFF 3FFF 1683 0186 1283 1406 2808; 2007:3FF1",
            """
             list p=16f84a
             #include <p16f84a.inc>
             __config _CP_OFF & _WDT_OFF & _PWRTE_ON & _XT_OSC
             org 0
             goto start
             fill 0x3FFF,3
            start
             bsf STATUS,RP0
             clrf TRISB
             bcf STATUS,RP0
             bsf PORTB,0
            loop goto loop
             end
            """
        );

    [Fact]
    public void The_same_program_gives_the_same_words_with_all_columns_lost() =>
        Check.Gives(
            "0:2803 0064 0009 3005 00A0 0820 3F01",
            """
            list p=16f628
            count equ 20h
            org 0
            goto start
            clrwdt
            retfie
            start movlw 5
            movwf count
            movf count,w
            dw 3f01
            end
            """
        );

    [Fact]
    public void The_same_program_gives_the_same_words_with_every_line_indented() =>
        Check.Gives(
            "0:2801 3005 00A0 2801",
            """
              count equ 20h
              goto start
              start
              movlw 5
              movwf count
              goto start
              end
            """
        );

    // language.md: an 8-bit literal out of range keeps its low 8 bits; '255' is hexadecimal by default.
    [Theory]
    [InlineData("movlw 255", "0:3055")]
    [InlineData("movlw d'255'", "0:30FF")]
    [InlineData("movlw .10", "0:300A")]
    [InlineData("movlw 0x1F", "0:301F")]
    [InlineData("movlw 1Fh", "0:301F")]
    [InlineData("movlw h'1F'", "0:301F")]
    [InlineData("movlw b'00011111'", "0:301F")]
    [InlineData("movlw B'00011111'", "0:301F")]
    [InlineData("movlw o'37'", "0:301F")]
    [InlineData("movlw q'37'", "0:301F")]
    [InlineData("movlw a'A'", "0:3041")]
    [InlineData("movlw 'A'", "0:3041")]
    [InlineData("movlw \"A\"", "0:3041")]
    [InlineData("movlw 10", "0:3010")]
    [InlineData("movlw -1", "0:30FF")]
    [InlineData("movlw 0b", "0:300B")]
    [InlineData("movlw low 0x1234", "0:3034")]
    [InlineData("movlw high 0x1234", "0:3012")]
    [InlineData("movlw 1+2*3", "0:3007")]
    [InlineData("movlw (1+2)*3", "0:3009")]
    [InlineData("movlw 1<<4|3", "0:3013")]
    [InlineData("movlw ~0F0", "0:300F")]
    [InlineData("movlw (3+4)&0xFF", "0:3007")]
    [InlineData("movlw(3+4)&0xFF", "0:3007")]
    [InlineData("clrw", "0:0103")]
    [InlineData("nop", "0:0000")]
    [InlineData("option", "0:0062")]
    [InlineData("tris 6", "0:0066")]
    [InlineData("movf 20", "0:08A0")]
    [InlineData("movf 20,w", "0:0820")]
    [InlineData("movf 20,W", "0:0820")]
    [InlineData("movf 20,f", "0:08A0")]
    [InlineData("movf 0xA0,f", "0:08A0")]
    [InlineData("bsf 3,5", "0:1683")]
    [InlineData("MOVLW 5", "0:3005")]
    [InlineData("goto $", "0:2800")]
    [InlineData("goto $+2", "0:2802")]
    [InlineData("skpz", "0:1D03")]
    [InlineData("bz 5", "0:1903 2805")]
    [InlineData("negf 20,f", "0:09A0 0AA0")]
    [InlineData("dt \"AB\",0", "0:3441 3442 3400")]
    [InlineData("dt \"\\r\\n\"", "0:340D 340A")]
    [InlineData("da \"AB\"", "0:20C2")]
    [InlineData("dw 1,2,3fff", "0:0001 0002 3FFF")]
    [InlineData("fill 3fff,2", "0:3FFF 3FFF")]
    public void A_line_gives_its_words(string line, string words) => Check.Gives(words, $" {line}\n end");

    [Fact]
    public void Ends_and_text_after_them_are_not_read() => Check.Gives("0:0000", " nop\n end\nthis is no program (\n");

    [Fact]
    public void Blocks_of_variables_go_on_where_the_last_one_ended() =>
        Check.Gives(
            "0:01A0 01A1 01A3 01A4 01B0",
            """
             cblock 20
             a
             b:2, c
             endc
             cblock
              d
             endc
             cblock 0x30
             e
             endc
             clrf a
             clrf b
             clrf c
             clrf d
             clrf e
             end
            """
        );

    [Fact]
    public void Macros_put_in_their_arguments_and_make_local_names_new() =>
        Check.Gives(
            "0:3005 00A0 0BA0 2802 3007 00A0 0BA0 2806",
            """
            wait macro n,reg
             local again
             movlw n
             movwf reg
            again
             decfsz reg,f
             goto again
             endm
            count equ 20
             wait 5,count
             wait 7,count
             end
            """
        );

    [Fact]
    public void A_macro_may_be_left_early_and_lacks_what_the_call_leaves_out() =>
        Check.Gives(
            "0:3001 3002 3001",
            """
            two macro a,b
             movlw 1
             if a == 0
             exitm
             endif
             movlw 2
             endm
             two 1
             two 0
             end
            """
        );

    [Fact]
    public void Loops_look_at_their_condition_first() =>
        Check.Gives(
            "0:3400 3401 3404",
            """
            i set 0
             while i < 3
             dt i*i
            i set i+1
             endw
             while 0
             nop
             endw
             end
            """
        );

    [Fact]
    public void Pasted_numbers_make_names() =>
        Check.Gives(
            "0:3001 3002",
            """
            n set 1
            v#v(n) equ 1
            v#v(n+1) equ 2
             movlw v1
             movlw v#v(2)
             end
            """
        );

    [Fact]
    public void Defines_stand_for_operands_and_operations() =>
        Check.Gives(
            "0:1406 1006 3007 0186",
            """
            #define LED 6,0
            #define sum(a,b) (a+b)
            #define OFF clrf 6
             bsf LED
             bcf LED ; LED in a comment
             movlw sum(3,4)
             OFF
             end
            """
        );

    [Fact]
    public void Choices_follow_their_conditions() =>
        Check.Gives(
            "0:3001 3005 3006",
            """
            x equ 1
             if x
             movlw 1
             else
             movlw 2
             endif
            #ifdef y
             movlw 3
            #endif
             if x == 2
             movlw 4
             elseif x == 1
             movlw 5
             else
             movlw 7
             endif
             ifndef y
             movlw 6
             endif
             end
            """
        );

    [Fact]
    public void Identification_configuration_and_EEPROM_go_to_their_places() =>
        Check.Gives(
            "0:0000; 2000:0001 0002 0003 0004; 2007:3FF1; 2100:0048 0069 0003",
            """
             nop
             __idlocs 0x1234
             __config 3FF1
             org 2100
             de "Hi",3
             end
            """
        );

    // Two banks: RP0 alone. Four banks: RP0, then RP1. Four pages: PCLATH bit 3, then bit 4 (language.md).
    [Theory]
    [InlineData("16f84a", "banksel 86", "0:1683")]
    [InlineData("16f84a", "pagesel 800\n nop", "0:0000")]
    [InlineData("16f877", "banksel 86", "0:1683 1303")]
    [InlineData("16f877", "banksel 106", "0:1283 1703")]
    [InlineData("16f877", "pagesel 800", "0:158A 120A")]
    [InlineData("16f877", "lcall 1005", "0:118A 160A 2005")]
    [InlineData("16f873", "lgoto 805", "0:158A 2805")]
    [InlineData("16f84a", "lcall 5", "0:2005")]
    public void Bank_and_page_selection_follow_the_chip(string chip, string line, string words) =>
        Check.Gives(words, $" list p={chip}\n {line}\n end\n");

    [Fact]
    public void Included_files_are_read_in_place() =>
        Check.Gives(
            "0:3001 3002 3003",
            " movlw 1\n include \"second.asm\"\n movlw 3\n end\n",
            ("second.asm", " movlw 2\n")
        );

    [Fact]
    public void Sections_are_placed_by_the_tool() =>
        Check.Gives(
            "0:2801 01A0 01A1",
            """
             list p=16f628
             udata
            a res 1
            b res 2
            start code 0
             goto main
             code
            main
             clrf a
             clrf b
             end
            """
        );
}
