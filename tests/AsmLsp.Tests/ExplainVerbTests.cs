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
    [InlineData("'soon' is no duration", "explain", "--delay", "soon", "--clock", "4MHz")]
    [InlineData("'fast' is no clock rate", "explain", "--delay", "1ms", "--clock", "fast")]
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

    private static (int Code, string Output, string Errors) Run(params string[] arguments)
    {
        var output = new StringWriter { NewLine = "\n" };
        var errors = new StringWriter { NewLine = "\n" };
        return (CommandLine.Run(arguments, output, errors), output.ToString(), errors.ToString());
    }
}
