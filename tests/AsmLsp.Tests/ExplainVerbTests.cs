using System.Text.Json;
using AsmLsp.Verbs;

namespace AsmLsp.Tests;

/// <summary><c>relist explain</c> on the command line.</summary>
public sealed class ExplainVerbTests
{
    [Fact]
    public void A_delay_is_written_as_lines_of_source()
    {
        (int code, string output, _) = Run("explain", "--delay", "1ms", "--clock", "4MHz");
        Assert.Equal(ExitCodes.Clean, code);
        Assert.Equal(
            """
            ; 1 ms at 4 MHz = 1,000 cycles
            ; 4 words; changes W and flags; interrupts make it longer
                    movlw   0xFA
                    addlw   0xFF
                    btfss   STATUS,2
                    goto    $-2

            """,
            output
        );
    }

    [Fact]
    public void The_call_and_the_return_of_a_routine_count()
    {
        (_, string output, _) = Run("explain", "--delay", "6 cycles", "--routine", "pause");
        Assert.Equal(
            """
            ; 6 cycles, with the call and the return
            ; 2 words; changes nothing; interrupts make it longer
            pause
                    goto    $+1
                    return

            """,
            output
        );
    }

    [Theory]
    [InlineData("a time needs a clock", "explain", "--delay", "1ms")]
    [InlineData("'soon' is not a duration", "explain", "--delay", "soon", "--clock", "4MHz")]
    [InlineData("'fast' is not a clock rate", "explain", "--delay", "1ms", "--clock", "fast")]
    [InlineData("is too short", "explain", "--delay", "3 cycles", "--routine", "x")]
    [InlineData("is too long", "explain", "--delay", "1000000 min", "--clock", "4MHz")]
    [InlineData("give both", "explain", "--routine", "x")]
    [InlineData("give a source", "explain")]
    public void What_is_wrong_with_a_delay_is_said(string message, params string[] arguments)
    {
        (int code, string output, string errors) = Run(arguments);
        Assert.Equal(ExitCodes.Unusable, code);
        Assert.Equal("", output);
        Assert.Contains(message, errors, StringComparison.Ordinal);
    }

    [Fact]
    public void Pins_are_shown_as_a_table_with_the_numbers_of_the_package()
    {
        using var folder = new Sources();
        string file = folder.Add(
            "#define lamp PORTB,0\n list p=16f84a\n include <p16f84a.inc>\n __config _XT_OSC & _WDT_OFF\n org 0\n clrf PORTB\n bsf STATUS,RP0\n bcf TRISB,0\n bcf STATUS,RP0\nloop bsf lamp\n bcf lamp\n goto loop\n end\n"
        );
        (int code, string output, _) = Run("explain", file, "--pins");
        Assert.Equal(ExitCodes.Clean, code);
        string[] lines =
        [
            .. output
                .Split('\n')
                .Select(static l => string.Join(' ', l.Split(' ', StringSplitOptions.RemoveEmptyEntries))),
        ];
        Assert.Equal("PIC16F84A, PDIP-18", lines[0]);
        Assert.Contains("6 RB0 INT lamp input output, low output, toggled", lines);
        Assert.Contains("16 OSC1 CLKIN crystal or resonator", lines);
        Assert.Contains(
            "The main loop begins in line 10; interrupts and the routines that it calls are counted in.",
            lines
        );
    }

    [Fact]
    public void A_program_is_outlined_as_a_person_would()
    {
        using var folder = new Sources();
        string file = folder.Add(
            "; Blinks a lamp, clock 4 MHz\n list p=16f84a\n include <p16f84a.inc>\n __config _XT_OSC & _WDT_OFF & _PWRTE_ON & _CP_OFF\ncount equ 0x0C ; laps\n org 0\n clrf PORTB\n bsf STATUS,RP0\n movlw 0xFE\n movwf TRISB\n bcf STATUS,RP0\nloop bsf PORTB,0\n call wait\n bcf PORTB,0\n call wait\n goto loop\n; a moment\nwait clrf count\nw decfsz count,f\n goto w\n return\n end\n"
        );
        (int code, string output, _) = Run("explain", file);
        Assert.Equal(ExitCodes.Clean, code);
        Assert.Equal(
            """
            kit.asm, a program for the PIC16F84A
              "Blinks a lamp, clock 4 MHz"

            Chip
              14 of 1,024 words used; 68 bytes of memory; 64 bytes of EEPROM
              Clock: 4 MHz, as a comment says
              Configuration: program memory readable (no protection); power-up delay timer on (about 72 ms); watchdog off;
                  clock: standard crystal or resonator, up to 4 MHz

            Pins
              Output, toggled: RB0 (pin 6)
              Input: RA0 (pin 17), RA1 (pin 18), RA2 (pin 1), RA3 (pin 2), RA4 (pin 3), RB1 (pin 7), RB2 (pin 8),
                  RB3 (pin 9), RB4 (pin 10), RB5 (pin 11), RB6 (pin 12), RB7 (pin 13)
              Reset input: /MCLR (pin 4)
              Crystal or resonator: OSC2 (pin 15), OSC1 (pin 16)

            Start-up, line 7
              5 words; until the main loop 5 cycles (5 µs at 4 MHz)

            Main loop, line 12
              5 words; a lap takes 1,548 cycles (1.548 ms at 4 MHz); calls wait

            Routines
              wait, line 18: "a moment"
                  4 words; 770 cycles (770 µs at 4 MHz); called by the main loop
              Calls are nested 1 deep at most; the stack holds 8.

            Variables
              count 0x0C: "laps"; written by wait; read by wait

            """,
            output
        );
        (_, string json, _) = Run("explain", file, "--json");
        using var outline = JsonDocument.Parse(json);
        Assert.Equal(770, outline.RootElement.GetProperty("routines")[0].GetProperty("leastCycles").GetInt64());
        (_, string lines, _) = Run("explain", file, "--lines");
        Assert.Contains("  13  call wait", lines, StringComparison.Ordinal);
    }

    [Fact]
    public void Pins_are_written_as_JSON()
    {
        using var folder = new Sources();
        string file = folder.Add(" list p=16f84a\n org 0\n goto 0\n end\n");
        (int code, string output, _) = Run("explain", file, "--pins", "--json");
        Assert.Equal(ExitCodes.Clean, code);
        using var json = JsonDocument.Parse(output);
        JsonElement pin = json
            .RootElement.GetProperty("pins")
            .EnumerateArray()
            .Single(p => p.GetProperty("name").GetString() == "RA4");
        Assert.Equal(3, pin.GetProperty("pin").GetInt32());
        Assert.Equal("input", pin.GetProperty("atReset").GetProperty("direction").GetString());
        Assert.Equal(JsonValueKind.Null, pin.GetProperty("afterStart").ValueKind);
        Assert.Equal(3, json.RootElement.GetProperty("mainLoopLine").GetInt32());
    }

    [Fact]
    public void Pins_of_a_program_with_errors_are_not_known()
    {
        using var folder = new Sources();
        (int code, _, string errors) = Run("explain", folder.Add(" list p=16f84a\n clrf nowhere\n end\n"), "--pins");
        Assert.Equal(ExitCodes.Unusable, code);
        Assert.Contains("the program has errors", errors, StringComparison.Ordinal);
    }

    // A folder for sources, gone afterward.
    private sealed class Sources : IDisposable
    {
        private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("explain");

        public string Add(string text)
        {
            string path = Path.Combine(folder.FullName, "kit.asm");
            File.WriteAllText(path, text);
            return path;
        }

        public void Dispose() => folder.Delete(recursive: true);
    }

    private static (int Code, string Output, string Errors) Run(params string[] arguments)
    {
        var output = new StringWriter { NewLine = "\n" };
        var errors = new StringWriter { NewLine = "\n" };
        return (CommandLine.Run(arguments, output, errors), output.ToString(), errors.ToString());
    }
}
