using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Execution;
using AsmLsp.Core.Flow;
using AsmLsp.Core.Flow.Pins;
using AsmLsp.Core.Tests.Assembly;

namespace AsmLsp.Core.Tests.Flow;

/// <summary>
/// Pins at reset, after start-up and in the main loop. Values after power-on: data sheets DS35007B (table 6-3), DS40044B (table 14-6), DS30292C;
/// pin numbers: their pin diagrams.
/// </summary>
public class PinReportTests
{
    [Fact]
    public void A_pin_is_an_input_at_reset_and_what_the_program_makes_of_it_later()
    {
        PinReport report = Report(
            "16f84a",
            "#define lamp PORTB,3\n",
            " clrf PORTB\n bsf STATUS,RP0\n movlw 0xF0\n movwf TRISB\n bcf STATUS,RP0\n bsf PORTB,1\nloop bsf lamp\n nop\n bcf lamp\n goto loop\n"
        );
        Assert.Equal(("input", "output, low", "output, low"), Of(report, "RB0"));
        Assert.Equal(("input", "output, high", "output, high"), Of(report, "RB1"));
        Assert.Equal(("input", "output, low", "output, toggled"), Of(report, "RB3"));
        Assert.Equal(("input", "input", "input"), Of(report, "RB7"));
        PinFacts lamp = report.Pins.Single(p => p.Name == "RB3");
        Assert.Equal((9, "lamp"), (lamp.Package!.Number, Assert.Single(lamp.Names)));
    }

    [Theory]
    // Comparators off with 7 (DS40300C, figure 9-1); else they own RA0 to RA3 after the reset.
    [InlineData("16f628a", " nop\n", "RA1", "analog input", "analog input")]
    [InlineData("16f628a", " movlw 7\n movwf CMCON\n", "RA1", "analog input", "input")]
    // ANSEL has a bit for each channel (DS41190G, register 7-2).
    [InlineData(
        "12f675",
        " movlw 7\n movwf CMCON\n bsf STATUS,RP0\n movlw 1\n movwf ANSEL\n bcf STATUS,RP0\n",
        "GP0",
        "analog input",
        "analog input"
    )]
    [InlineData(
        "12f675",
        " movlw 7\n movwf CMCON\n bsf STATUS,RP0\n movlw 1\n movwf ANSEL\n bcf STATUS,RP0\n",
        "GP2",
        "analog input",
        "input"
    )]
    // PCFG 1110: AN0 alone (DS30292C, register 11-2); 011x: none.
    [InlineData(
        "16f877a",
        " bsf STATUS,RP0\n movlw 0x8E\n movwf ADCON1\n bcf STATUS,RP0\n",
        "RA0",
        "analog input",
        "analog input"
    )]
    [InlineData(
        "16f877a",
        " bsf STATUS,RP0\n movlw 0x8E\n movwf ADCON1\n bcf STATUS,RP0\n",
        "RA1",
        "analog input",
        "input"
    )]
    [InlineData(
        "16f877a",
        " bsf STATUS,RP0\n movlw 7\n movwf ADCON1\n bcf STATUS,RP0\n",
        "RE2",
        "analog input",
        "input"
    )]
    [InlineData(
        "16f877a",
        " bsf STATUS,RP0\n movf 0x20,w\n movwf ADCON1\n bcf STATUS,RP0\n",
        "RA0",
        "analog input",
        "input, analog or digital"
    )]
    public void Analog_pins_are_those_that_the_registers_choose(
        string chip,
        string lines,
        string pin,
        string reset,
        string start
    )
    {
        PinReport report = Report(chip, "", lines + "loop goto loop\n");
        (string AtReset, string? AfterStart, string?) found = Of(report, pin);
        Assert.Equal((reset, start), (found.AtReset, found.AfterStart));
    }

    [Theory]
    // Reset pin, crystal and low-voltage programming by the configuration word (DS40044B, register 14-1).
    [InlineData("0x3FFF & _HS_OSC", "RA7", "crystal or resonator; input")]
    [InlineData("0x3FFF & _HS_OSC & _MCLRE_OFF", "RA5", "input")]
    [InlineData("0x3FFF & _MCLRE_ON", "RA5", "reset input; input")]
    [InlineData("0x3FFF & _LVP_ON", "RB4", "low-voltage programming input (PGM); input")]
    [InlineData("0x3FFF & _LVP_OFF", "RB4", "input")]
    public void The_configuration_takes_pins(string configuration, string pin, string state)
    {
        PinReport report = Report("16f628a", $" __config {configuration}\n", "loop goto loop\n");
        Assert.Equal(state, Of(report, pin).AtReset);
    }

    [Fact]
    public void Parts_of_the_chip_that_are_switched_on_use_their_pins()
    {
        PinReport report = Report(
            "16f628a",
            "",
            " movlw 0x90\n movwf RCSTA\n movlw 0x0C\n movwf CCP1CON\nloop goto loop\n"
        );
        Assert.StartsWith("RX (serial port)", Of(report, "RB1").Item2, StringComparison.Ordinal);
        Assert.StartsWith("CCP1 (PWM or compare 1)", Of(report, "RB3").Item2, StringComparison.Ordinal);
        Assert.Equal("input", Of(report, "RB0").Item2);
    }

    [Fact]
    public void Pull_ups_of_port_B_are_those_of_the_option_register() =>
        Assert.Equal(
            ("input", "input with pull-up", "input with pull-up"),
            Of(Report("16f84a", "", " bsf STATUS,RP0\n bcf OPTION_REG,7\n bcf STATUS,RP0\nloop goto loop\n"), "RB0")
        );

    [Fact]
    public void Routines_and_interrupts_of_the_main_loop_count()
    {
        PinReport report = Report(
            "16f84a",
            "",
            " goto main\n org 4\n bcf INTCON,T0IF\n bsf PORTB,5\n retfie\nmain clrf PORTB\n bsf STATUS,RP0\n clrf TRISB\n bcf STATUS,RP0\n bsf INTCON,GIE\nloop call flash\n goto loop\nflash movlw 1\n xorwf PORTB,f\n return\n"
        );
        Assert.Equal("output, toggled", Of(report, "RB0").Item3);
        Assert.Equal("output, toggled", Of(report, "RB5").Item3);
        Assert.Equal("output, low", Of(report, "RB1").Item2);
    }

    [Fact]
    public void A_direction_that_changes_is_said()
    {
        PinReport report = Report(
            "16f84a",
            "",
            " clrf PORTB\nloop bsf STATUS,RP0\n bcf TRISB,2\n bsf TRISB,2\n bcf STATUS,RP0\n goto loop\n"
        );
        Assert.StartsWith("input and output", Of(report, "RB2").Item3, StringComparison.Ordinal);
    }

    [Fact]
    public void A_program_without_a_main_loop_shows_the_reset_alone()
    {
        PinReport report = Report("16f84a", "", " clrf PORTB\n sleep\n goto 0\n");
        Assert.NotNull(report.Loop);
        Assert.Empty(report.Loop.Entries);
        Assert.Null(report.Pins[0].AfterStart);
        Assert.Null(PinReport.Of(Check.Assemble(" list p=16f84a\n org 0\n clrf nowhere\n end\n")));
    }

    [Fact]
    public void A_program_that_ends_in_SLEEP_shows_what_holds_there()
    {
        PinReport report = Report(
            "16f84a",
            "",
            " bsf PORTB,2\n bsf STATUS,RP0\n bcf TRISB,2\n bcf STATUS,RP0\n sleep\n nop\n"
        );
        Assert.Null(report.Loop);
        Assert.Equal(("input", "output, high", null), Of(report, "RB2"));
    }

    // Every program of the fixtures: what is claimed of direction and level holds whenever it is executed.
    [Fact]
    public void What_is_said_of_pins_holds_when_the_programs_are_executed()
    {
        int checks = 0;
        foreach (ProgramAnalysis program in FixturePrograms.Assembled())
        {
            if (PinReport.Of(program) is not { } report)
                continue;
            for (int run = 0; run < 2; run++)
                checks += Follow(program, report, new Random(run));
        }

        Assert.True(checks > 100_000, $"{checks} pins were compared.");
    }

    private static int Follow(ProgramAnalysis program, PinReport report, Random random)
    {
        Processor chip = Processor.Of(program);
        FlowGraph graph = FlowGraph.Of(program);
        chip.Peripherals = new Outside(chip, report.Analysis.Registers, random);
        DataMemory memory = program.Device!.DataMemory;
        int checks = 0;
        for (int step = 0; step < 20_000; step++)
        {
            int at = chip.ProgramCounter;
            if (chip.Stack.HasOverflowed || chip.Stack.HasUnderflowed || graph.InstructionAt(at) is null)
                return checks;
            DecodedStep here = graph.Walk.StepAt(at);
            if (here.First == 0 && here.WrittenBits != 0)
                return checks;
            if (report.Analysis.Before(at) is not { } known)
            {
                Assert.Fail($"{program.Root.ShortName}: {at:X4} is reached.");
                return checks;
            }

            for (int i = 1; i < known.Length; i++)
            {
                Register register = report.Analysis.Registers.All[i]!;
                if (
                    !register.Name.StartsWith("TRIS", StringComparison.Ordinal)
                    && !register.Name.StartsWith("PORT", StringComparison.Ordinal)
                )
                    continue;
                int value = chip.Peek(memory.Canonical(register.Address));
                int wrong = (value & ~known[i].One | ~value & ~known[i].Zero) & register.PresentMask;
                Assert.True(
                    wrong == 0,
                    $"{program.Root.ShortName}, {at:X4}: {register.Name} is {value:X2}, known {known[i]}"
                );
                checks++;
            }

            int before = chip.ProgramCounter;
            chip.Step();
            chip.Wake();
            if (
                here.Operation is Operation.Call or Operation.Goto
                && chip.ProgramCounter != graph.Walk.TargetOf(before)
            )
                return checks;
            // An index past the end of its table goes where the author did not mean to go.
            if (
                FlowWalk.WritesProgramCounter(here)
                && graph.Walk.Tables.TryGetValue(before, out FlowWalk.Table? table)
                && (chip.ProgramCounter < table.First || chip.ProgramCounter >= table.End)
            )
                return checks;
        }

        return checks;
    }

    // An output reads as what was written to it, an input as anything.
    private sealed class Outside(Processor chip, PinRegisters registers, Random random) : IPeripherals
    {
        public int Read(int address, int stored)
        {
            int number = registers.NumberAt(address),
                direction = number > 0 ? registers.Directions[number] : -1;
            int inputs =
                direction >= 0 ? chip.Peek(registers.All[direction]!.Address)
                : number > 0 ? 0
                : 0xFF;
            return stored & ~inputs | random.Next(256) & inputs;
        }

        public int Write(int address, int value) => value;
    }

    private static (string AtReset, string? AfterStart, string? InLoop) Of(PinReport report, string name)
    {
        PinFacts pin = report.Pins.Single(p => p.Name == name);
        return (pin.AtReset.ToString(), pin.AfterStart?.ToString(), pin.InLoop?.ToString());
    }

    private static PinReport Report(string chip, string head, string lines)
    {
        ProgramAnalysis program = Check.Assemble(
            $" list p={chip}\n include <p{chip}.inc>\n{head} org 0\n{lines} end\n"
        );
        Assert.False(program.HasErrors, string.Join("\n", program.Problems.Select(p => p.Message)));
        return PinReport.Of(program)!;
    }
}
