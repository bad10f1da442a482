using System.Text.RegularExpressions;

namespace AsmLsp.Tests;

/// <summary>What a terminal shows and what a pipe gets; 'script' of util-linux is the terminal.</summary>
public sealed partial class ScreenTests : IDisposable
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

    [Theory]
    [InlineData("chips", "PIC16F84A    1024   68      64      2    18  erasable")]
    [InlineData("chips 16F84A", "  stack      8 levels")]
    [InlineData("explain b.asm --pins", "  6  RB0 INT")]
    [InlineData("replace b.asm --chip 16F628A", "  configuration  b.asm:3:1: ")]
    [InlineData("build b.asm --dry-run", "  WDTE         watchdog off")]
    public async Task Tables_keep_their_gaps_and_fit_a_narrow_terminal(string arguments, string row)
    {
        await File.WriteAllTextAsync(
            Path.Combine(folder.FullName, "b.asm"),
            " list p=16f84a\n include <p16f84a.inc>\n __config _XT_OSC & _WDT_OFF & _PWRTE_ON & _CP_OFF\nstart bsf STATUS,RP0\n bcf TRISB,0\n bcf STATUS,RP0\nloop bsf PORTB,0\n bcf PORTB,0\n goto loop\n end\n"
        );
        string screen = await RunAsync($"TERM=xterm script -qec 'stty cols 60; \"$RELIST\" {arguments}' /dev/null");
        string[] lines = [.. Escapes().Replace(screen, "").Split('\n').Select(static l => l.TrimEnd())];
        Assert.Contains(lines, l => l.StartsWith(row, StringComparison.Ordinal));
        Assert.All(
            lines.Where(static l => l.StartsWith("  ", StringComparison.Ordinal)),
            static l => Assert.True(l.Length <= 60, l)
        );
    }

    [Fact]
    public async Task A_card_is_text_on_a_terminal_and_a_page_elsewhere()
    {
        await File.WriteAllTextAsync(Path.Combine(folder.FullName, "c.asm"), " list p=16f84a\nloop goto loop\n end\n");
        string screen = await RunAsync("TERM=xterm script -qec '\"$RELIST\" card c.asm' /dev/null");
        Assert.DoesNotContain("<html", screen, StringComparison.Ordinal);
        Assert.Contains("# c.hex in PIC16F84A", screen, StringComparison.Ordinal);
        Assert.Contains("add -o card.html", screen, StringComparison.Ordinal);
        Assert.StartsWith("<!DOCTYPE html>", await RunAsync("\"$RELIST\" card c.asm"), StringComparison.Ordinal);
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

    [Fact]
    public async Task Every_command_shows_that_it_works_and_takes_that_away_before_it_writes()
    {
        const string slow = "(sleep 2.4; cat a.asm) | ";
        string screen = await RunAsync($"TERM=xterm script -qec '{slow}\"$RELIST\" check -' /dev/null");
        int shown = screen.IndexOf("\rWorking: ", StringComparison.Ordinal),
            gone = screen.IndexOf("  \r", Math.Max(0, shown), StringComparison.Ordinal),
            problem = screen.IndexOf("standard-input.asm:", StringComparison.Ordinal);
        Assert.True(0 < shown && shown < gone && gone < problem, screen);
    }

    private async Task<string> RunAsync(string line)
    {
        using RelistProcess relist = RelistProcess.Shell(folder.FullName, line);
        string output = await relist.OutputAsync();
        await relist.EndAsync();
        return output;
    }

    [GeneratedRegex("\u001b(\\[[?0-9;]*[A-Za-z]|=)")]
    private static partial Regex Escapes();
}
