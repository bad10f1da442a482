using System.Reflection;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Flow;
using AsmLsp.Core.Flow.Checks;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Tests.Flow;

/// <summary>Programs as they were commonly printed (own inventions): all of them run, so nothing may be said against them.</summary>
public class OrdinaryProgramTests
{
    public static TheoryData<string, string> Programs =>
        new()
        {
            {
                "interrupt with saved registers, hand-written equates, numbers for registers",
                """
                     list p=16f84
                    tmr0 equ 1
                    status equ 3
                    porta equ 5
                    portb equ 6
                    intcon equ 0bh
                    wsave equ 0ch
                    ssave equ 0dh
                    ticks equ 0eh
                     __config 3FF1
                     org 0
                     goto main
                     org 4
                     movwf wsave
                     swapf status,0
                     movwf ssave
                     bcf status,5
                     bcf intcon,2
                     decfsz ticks,1
                     goto leave
                     movlw 1
                     xorwf portb,1
                     movlw .15
                     movwf ticks
                    leave swapf ssave,0
                     movwf status
                     swapf wsave,1
                     swapf wsave,0
                     retfie
                    main bsf status,5
                     movlw 0
                     movwf portb
                     movlw 1f
                     movwf porta
                     movlw 7
                     movwf tmr0
                     bcf status,5
                     clrf portb
                     movlw .15
                     movwf ticks
                     movlw 0a0
                     movwf intcon
                    loop goto loop
                     end
                    """
            },
            {
                "display table, EEPROM write, option and tris",
                """
                     list p=16f84a
                     #include <p16f84a.inc>
                     __config _CP_OFF & _WDT_ON & _PWRTE_ON & _XT_OSC
                     cblock 0x0C
                     digit,n,m
                     endc
                     org 0
                     goto start
                    segs addwf PCL,f
                     dt 0x3F,0x06,0x5B,0x4F,0x66,0x6D,0x7D,0x07,0x7F,0x6F
                    start clrw
                     tris PORTB
                     movlw b'10001111'
                     option
                     clrf digit
                    show clrwdt
                     movf digit,w
                     call segs
                     movwf PORTB
                     call wait
                     incf digit,f
                     movlw .10
                     subwf digit,w
                     btfss STATUS,Z
                     goto show
                     clrf digit
                     call save
                     goto show
                    save movlw 5
                     movwf EEADR
                     movf digit,w
                     movwf EEDATA
                     bsf STATUS,RP0
                     bsf EECON1,WREN
                     movlw 0x55
                     movwf EECON2
                     movlw 0xAA
                     movwf EECON2
                     bsf EECON1,WR
                    ready btfsc EECON1,WR
                     goto ready
                     bcf EECON1,WREN
                     bcf STATUS,RP0
                     return
                    wait clrf n
                    w1 clrf m
                    w2 decfsz m,f
                     goto w2
                     decfsz n,f
                     goto w1
                     retlw 0
                     org 0x2100
                     de "EE"
                     end
                    """
            },
            {
                "four banks, pages, a table far away, RAM cleared through FSR",
                """
                     list p=16f877
                     #include <p16f877.inc>
                     __config _CP_OFF & _WDT_OFF & _LVP_OFF & _HS_OSC & _PWRTE_ON
                    temp equ 0x20
                    idx equ 0x71
                     org 0
                     clrf PCLATH
                     goto main
                     org 5
                    main movlw 0x20
                     movwf FSR
                    clr clrf INDF
                     incf FSR,f
                     btfss FSR,7
                     goto clr
                     banksel ADCON1
                     movlw 6
                     movwf ADCON1
                     clrf TRISD
                     banksel PORTD
                    again movf idx,w
                     lcall look
                     pagesel again
                     movwf PORTD
                     btfsc PORTA,0
                     goto again
                     movlw high text
                     movwf PCLATH
                     movf idx,w
                     call text
                     pagesel again
                     movwf temp
                     goto again
                     org 0x300
                    text addwf PCL,f
                     dt "READY",0
                     org 0x800
                    look andlw 3
                     movwf temp
                     movlw high tbl
                     movwf PCLATH
                     movf temp,w
                     addwf PCL,f
                    tbl retlw 1
                     retlw 2
                     retlw 4
                     retlw 8
                     end
                    """
            },
            {
                "jump table, state machine, sleep at the end, interrupt on change",
                """
                     list p=16f628a
                     #include <p16f628a.inc>
                     __config _CP_OFF & _WDT_OFF & _LVP_OFF & _INTRC_OSC_NOCLKOUT & _MCLRE_OFF & _BODEN_OFF
                     cblock 0x70
                     state,keep_w,keep_s
                     endc
                    led macro pin
                     bsf PORTA,pin
                     endm
                     org 0x00
                     goto init
                     org 0x04
                     movwf keep_w
                     movf STATUS,w
                     movwf keep_s
                     bcf STATUS,RP0
                     bcf STATUS,RP1
                     movf PORTB,w
                     bcf INTCON,RBIF
                     movf keep_s,w
                     movwf STATUS
                     swapf keep_w,f
                     swapf keep_w,w
                     retfie
                    init movlw 0x07
                     movwf CMCON
                     bsf STATUS,RP0
                     movlw 0xF0
                     movwf TRISB
                     clrf TRISA
                     bcf STATUS,RP0
                     clrf state
                     bsf INTCON,RBIE
                     bsf INTCON,GIE
                    next movf state,w
                     andlw 3
                     addwf PCL,f
                     goto one
                     goto two
                     goto three
                     goto off
                    one led 0
                     goto step
                    two led 1
                     goto step
                    three btfss PORTA,2
                     led 2
                    step incf state,f
                     goto next
                    off clrf PORTA
                     sleep
                     end
                    """
            },
            {
                "a chip with the factory's clock calibration; calls used as jumps",
                """
                     list p=12f675
                     #include <p12f675.inc>
                     __config _CPD_OFF & _CP_OFF & _BODEN_OFF & _MCLRE_OFF & _WDT_OFF & _PWRTE_ON & _INTRC_OSC_NOCLKOUT
                     org 0
                     bsf STATUS,RP0
                     call 0x3FF
                     movwf OSCCAL
                     clrf ANSEL
                     movlw b'00001000'
                     movwf TRISIO
                     bcf STATUS,RP0
                     movlw 7
                     movwf CMCON
                    wait btfsc GPIO,3
                     goto wait
                     bsf GPIO,0
                     call hold
                     bcf GPIO,0
                     goto wait
                    hold movlw .200
                     movwf 0x20
                    h1 nop
                     decfsz 0x20,f
                     goto h1
                     return
                     end
                    """
            },
        };

    [Theory]
    [MemberData(nameof(Programs))]
    public void Nothing_is_said_against_a_program_that_runs(string what, string source)
    {
        ProgramAnalysis program = Assembler.Assemble(new SourceFile("test.asm", SourceText.From(source)));
        Assert.False(
            program.HasErrors,
            what + ": " + string.Join("\n", program.Problems.Select(p => $"{p.Place} {p.Message}"))
        );
        Assert.Equal([], FlowProblems.Find(program).Select(p => $"{p.Place} {p.Code}: {p.Message}"));
    }

    // One line taken out or turned round: what a misprint would do.
    [Theory]
    [InlineData(3, " clrf TRISA\n bcf STATUS,RP0\n", " clrf TRISA\n", "runs with bank 1", "wrong-bank")]
    [InlineData(2, " movlw high text\n movwf PCLATH\n", "", "table in block 3", "table-crosses-border")]
    [InlineData(2, " lcall look", " call look", "page 1", "wrong-page")]
    [InlineData(2, " movlw 6\n movwf ADCON1\n", "", "RA0 analog", "pin-not-digital")]
    [InlineData(3, " sleep\n", "", "no end", "runs-off-the-end")]
    [InlineData(1, "show clrwdt", "show", "watchdog", "watchdog-never-cleared")]
    [InlineData(
        4,
        " call hold\n bcf GPIO,0\n goto wait\n",
        " call hold\n bcf GPIO,0\n",
        "falls into the routine, whose return has no address",
        null
    )]
    public void A_line_lost_from_it_is_found(int number, string printed, string lost, string what, string? code)
    {
        string source = ((string)Programs.ElementAt(number)[1]).ReplaceLineEndings("\n");
        Assert.Contains(printed, source, StringComparison.Ordinal);
        ProgramAnalysis program = Assembler.Assemble(
            new SourceFile("test.asm", SourceText.From(source.Replace(printed, lost, StringComparison.Ordinal)))
        );
        Assert.False(program.HasErrors, what);
        string[] codes = [.. FlowProblems.Find(program).Select(p => p.Code).Distinct()];
        if (code is null)
            Assert.Empty(codes);
        else
            Assert.Contains(code, codes);
    }

    [Fact]
    public void The_list_of_checks_names_every_check()
    {
        IEnumerable<Type> written = typeof(FlowCheck)
            .Assembly.GetTypes()
            .Where(t => t.IsSubclassOf(typeof(FlowCheck)) && !t.GetTypeInfo().IsAbstract);
        Assert.Equal(written.OrderBy(t => t.Name), FlowProblems.Checks.Select(c => c.GetType()).OrderBy(t => t.Name));
    }
}
