namespace AsmLsp.Tests;

/// <summary>What a terminal shows and what a pipe gets; 'script' of util-linux is the terminal.</summary>
public sealed class ScreenTests : IDisposable
{
    private const string Red = "\u001b[31m";

    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("relist-screen-");

    public ScreenTests() =>
        File.WriteAllText(
            Path.Combine(folder.FullName, "a.asm"),
            " list p=16f84a\n include <p16f84a.inc>\n__config _XT_OSC & _WDT_OFF & _PWRTE_ON & _CP_OFF\n movlw lost\n end\n"
        );

    public void Dispose() => folder.Delete(recursive: true);

    [Theory]
    [InlineData("TERM=xterm script -qec '\"$RELIST\" check a.asm' /dev/null", true)]
    [InlineData("TERM=xterm NO_COLOR=1 script -qec '\"$RELIST\" check a.asm' /dev/null", false)]
    [InlineData("TERM=dumb script -qec '\"$RELIST\" check a.asm' /dev/null", false)]
    [InlineData("\"$RELIST\" check a.asm", false)]
    public async Task Errors_are_red_on_a_terminal_unless_the_person_wants_no_color(string line, bool isRed)
    {
        string text = await RunAsync(line);
        Assert.Equal(isRed, text.Contains(Red + "error", StringComparison.Ordinal));
        Assert.Equal(isRed, text.Contains("\u001b[3", StringComparison.Ordinal));
    }

    [Fact]
    public async Task Errors_come_before_warnings_and_each_place_is_file_line_and_column()
    {
        string[] lines =
        [
            .. (await RunAsync("\"$RELIST\" check a.asm"))
                .Split('\n')
                .Where(static l => l.StartsWith("a.asm", StringComparison.Ordinal)),
        ];
        Assert.StartsWith("a.asm:4:8: error: ", lines[0], StringComparison.Ordinal);
        Assert.All(lines.Skip(1), static l => Assert.DoesNotContain(": error: ", l, StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_table_is_plain_in_a_pipe_and_fits_a_terminal()
    {
        string pipe = await RunAsync("\"$RELIST\" chips");
        Assert.DoesNotContain('\u001b', pipe);
        Assert.Contains("PIC16F84A   ", pipe, StringComparison.Ordinal);
        string screen = await RunAsync("TERM=xterm script -qec '\"$RELIST\" chips' /dev/null");
        Assert.Contains("PIC16F84A", screen, StringComparison.Ordinal);
        Assert.Contains('\u001b', screen);
    }

    [Fact]
    public async Task Work_that_takes_long_is_shown_on_a_terminal_only()
    {
        // The document comes through a pipe that stays empty for two seconds.
        const string slow = "(sleep 2.4; cat a.asm) | ";
        Assert.Contains(
            "Reading standard-input.asm: ",
            await RunAsync($"TERM=xterm script -qec '{slow}\"$RELIST\" recover - -o b.asm' /dev/null"),
            StringComparison.Ordinal
        );
        using RelistProcess relist = RelistProcess.Shell(folder.FullName, slow + "\"$RELIST\" recover - -o b.asm");
        (_, string errors) = await relist.EndAsync();
        Assert.DoesNotContain("Reading", errors, StringComparison.Ordinal);
    }

    private async Task<string> RunAsync(string line)
    {
        using RelistProcess relist = RelistProcess.Shell(folder.FullName, line);
        string output = await relist.OutputAsync();
        await relist.EndAsync();
        return output;
    }
}
