using AsmLsp.Core.Assembly;
using AsmLsp.Core.Bench;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Tests.Bench;

/// <summary>What programs do at the pins; cycles are counted by hand after data sheet DS35007B, table 7-2.</summary>
public class StartUpTests
{
    private const string Head =
        " list p=16f84a\n include <p16f84a.inc>\n __config _XT_OSC & _WDT_OFF & _PWRTE_OFF & _CP_OFF\n; clock 4 MHz\n";

    private const string PortBOut = " bsf STATUS,RP0\n clrf TRISB\n bcf STATUS,RP0\n";

    [Fact]
    public void A_pin_that_pulses_has_its_period_and_its_time_high()
    {
        // bsf 1, nop 1, bcf 1, goto 2: 5 cycles, of which 2 are high.
        PinFinding pin = Pin(Head + PortBOut + "loop bsf PORTB,0\n nop\n bcf PORTB,0\n goto loop\n end\n", "RB0");
        Assert.True(pin.IsSame);
        Assert.Equal((PinAction.Pulses, 5L, 2L), (pin.High.Action, pin.High.Period!.Value, pin.High.High!.Value));
    }

    [Fact]
    public void A_pin_that_is_set_once_is_steady_from_then_on()
    {
        // bsf, movlw, movwf, bcf, movlw: the write to PORTB is the sixth cycle.
        PinFinding pin = Pin(
            Head
                + " bsf STATUS,RP0\n movlw 0\n movwf TRISB\n bcf STATUS,RP0\n movlw 4\n movwf PORTB\nloop goto loop\n end\n",
            "RB2"
        );
        Assert.True(pin.IsSame);
        Assert.Equal((PinAction.Steady, PinDrive.High, 6L), (pin.High.Action, pin.High.State, pin.High.Since));
    }

    [Fact]
    public void An_output_that_follows_an_input_names_it()
    {
        StartUp start = Run(
            Head
                + PortBOut
                + "loop btfsc PORTA,3\n bsf PORTB,1\n btfss PORTA,3\n bcf PORTB,1\n btfss PORTA,0\n nop\n goto loop\n end\n"
        );
        PinFinding output = start.Pins.First(p => p.Pin.Name == "RB1");
        Assert.False(output.IsSame);
        Assert.Equal(PinDrive.High, output.High.State);
        Assert.Equal(PinDrive.Low, output.Low.State);
        Assert.Equal("RA3", Assert.Single(output.Follows).Input.Name);
        Assert.Equal(["RA0", "RA3"], start.Pins.Where(p => p.IsRead).Select(p => p.Pin.Name));
    }

    [Fact]
    public void Timer_0_interrupts_at_its_overflow()
    {
        // Prescaler 1:2, so 512 cycles from overflow to overflow; the pin turns at each, so its period is 1024 cycles.
        PinFinding pin = Pin(
            Head
                + " org 0\n goto start\n org 4\n movlw 1\n xorwf PORTB,f\n bcf INTCON,T0IF\n retfie\n"
                + "start bsf STATUS,RP0\n clrf TRISB\n movlw b'11010000'\n movwf OPTION_REG\n bcf STATUS,RP0\n clrf PORTB\n"
                + " movlw b'10100000'\n movwf INTCON\nloop goto loop\n end\n",
            "RB0"
        );
        Assert.Equal(PinAction.Pulses, pin.High.Action);
        Assert.InRange(pin.High.Period!.Value, 1022, 1026);
    }

    [Fact]
    public void What_depends_on_memory_that_is_never_set_is_unknown() =>
        Assert.True(
            Pin(
                Head + PortBOut + " btfsc 0x20,0\n bsf PORTB,0\n btfss 0x20,0\n bcf PORTB,0\nloop goto loop\n end\n",
                "RB0"
            ).IsUndefined
        );

    [Fact]
    public void Certainty_ends_where_a_module_is_read_that_is_not_computed()
    {
        StartUp start = Run(
            " list p=16f628a\n include <p16f628a.inc>\n __config _XT_OSC & _WDT_OFF & _LVP_OFF & _MCLRE_ON\n"
                + " bsf STATUS,RP0\n clrf TRISB\n bcf STATUS,RP0\n bsf T1CON,TMR1ON\nloop movf TMR1L,w\n movwf PORTB\n goto loop\n end\n"
        );
        Assert.Equal(5, start.Horizon!.Cycle);
        Assert.Contains("TMR1L", start.Horizon.Reason, StringComparison.Ordinal);
        Assert.Contains("T1CON", start.Modules);
    }

    [Fact]
    public void Pins_that_comparators_own_are_unknown_until_the_program_frees_them()
    {
        const string chip =
            " list p=16f628a\n include <p16f628a.inc>\n __config _XT_OSC & _WDT_OFF & _LVP_OFF & _MCLRE_ON\n";
        Assert.NotNull(Pin(chip + "loop goto loop\n end\n", "RA0").Owner);
        Assert.Null(Pin(chip + " movlw 7\n movwf CMCON\nloop goto loop\n end\n", "RA0").Owner);
    }

    [Fact]
    public void Certainty_ends_where_the_watchdog_restarts_the_program()
    {
        string head = Head.Replace("_WDT_OFF", "_WDT_ON", StringComparison.Ordinal);
        // The prescaler belongs to the watchdog after reset, divided by 128: 2.3 s at 4 MHz are 2,304,000 cycles.
        Horizon horizon = Run(head + "loop goto loop\n end\n").Horizon!;
        Assert.Contains("watchdog", horizon.Reason, StringComparison.Ordinal);
        Assert.InRange(horizon.Cycle, 2_300_000, 2_310_000);
        Assert.Null(Run(head + "loop clrwdt\n goto loop\n end\n").Horizon);
    }

    [Fact]
    public void An_open_drain_pin_lets_go_where_others_drive_high()
    {
        PinFinding pin = Pin(
            Head + " bsf STATUS,RP0\n clrf TRISA\n bcf STATUS,RP0\n movlw 0x1F\n movwf PORTA\nloop goto loop\n end\n",
            "RA4"
        );
        Assert.Equal(PinDrive.Released, pin.High.State);
    }

    [Fact]
    public void Bytes_of_the_eeprom_are_read_as_the_hex_has_them()
    {
        PinFinding pin = Pin(
            Head
                + PortBOut
                + " movlw 1\n movwf EEADR\n bsf STATUS,RP0\n bsf EECON1,RD\n bcf STATUS,RP0\n movf EEDATA,w\n movwf PORTB\nloop goto loop\n org 0x2100\n de 0,0x80\n end\n",
            "RB7"
        );
        Assert.Equal(PinDrive.High, pin.High.State);
    }

    [Fact]
    public void A_program_that_sleeps_says_when()
    {
        StartUp start = Run(Head + PortBOut + " sleep\n end\n");
        Assert.Equal(4, start.AsleepAt);
    }

    private static PinFinding Pin(string source, string name) => Run(source).Pins.First(p => p.Pin.Name == name);

    private static StartUp Run(string source)
    {
        ProgramAnalysis program = Assembler.Assemble(
            new SourceFile("main.asm", SourceText.From(source)),
            new FixturePrograms.Beside()
        );
        Assert.False(program.HasErrors, string.Join("\n", program.Problems.Select(p => p.Message)));
        return StartUp.Of(program.Device!, program.Image.Memory, 4e6);
    }
}
