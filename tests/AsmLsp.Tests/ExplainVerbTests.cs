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

    // A folder for sources, gone afterwards.
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
