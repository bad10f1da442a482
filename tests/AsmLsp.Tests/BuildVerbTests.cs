using System.Globalization;
using AsmLsp.Core.Hex;

namespace AsmLsp.Tests;

/// <summary>What 'build' makes of several sources, of defines and of named builds, and when it refuses, through the executable.</summary>
public sealed class BuildVerbTests : IDisposable
{
    private const string Two = """
         list p=16f84a
         #include <p16f84a.inc>
         __config _CP_OFF & _WDT_OFF & _XT_OSC
         extern wait
         org 0
         call wait
         goto $
         end
        """;

    private const string Choice = """
         list p=16f84a
         #include <p16f84a.inc>
         __config _CP_OFF & _WDT_OFF & _XT_OSC
         org 0
         ifdef FAST
         movlw 1
         else
         ifdef SLOW
         movlw 2
         else
         error "which speed?"
         endif
         endif
         goto $
         end
        """;

    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("relist-build");

    public void Dispose() => folder.Delete(recursive: true);

    [Fact]
    public async Task Sources_on_the_command_line_make_one_program()
    {
        Write("main.asm", Two);
        Write("wait.asm", " global wait\nwait\n return\n end\n");
        (int code, string errors) = await RunAsync("build", InFolder("main.asm"), InFolder("wait.asm"));
        Assert.True(code == 0, errors);
        Assert.Contains(":0600000002200128080", Read("main.hex"), StringComparison.Ordinal);
        (code, errors) = await RunAsync("check", InFolder("main.asm"), InFolder("wait.asm"));
        Assert.True(code == 0, errors);
        (code, errors) = await RunAsync("build", InFolder("main.asm"));
        Assert.Equal(1, code);
        Assert.Contains("Name all files of the program", errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Sources_in_the_project_file_make_one_program()
    {
        Write("main.asm", Two);
        Write("wait.asm", " global wait\nwait\n return\n end\n");
        Write("relist.json", """{ "files": ["main.asm", "wait.asm"] }""");
        (int code, string errors) = await RunAsync("build", InFolder("main.asm"));
        Assert.True(code == 0, errors);
    }

    [Fact]
    public async Task A_define_on_the_command_line_decides_a_choice()
    {
        Write("kit.asm", Choice);
        (int code, string errors) = await RunAsync("build", InFolder("kit.asm"));
        Assert.Equal(1, code);
        Assert.Contains("depends on FAST, SLOW.", errors, StringComparison.Ordinal);
        (code, errors) = await RunAsync("build", InFolder("kit.asm"), "--define", "SLOW");
        Assert.True(code == 0, errors);
        Assert.Contains(":0400000002300128", Read("kit.hex"), StringComparison.Ordinal);
        (code, errors) = await RunAsync("build", InFolder("kit.asm"), "--define", "5=x");
        Assert.Equal(2, code);
        Assert.Contains("--define takes NAME or NAME=TEXT", errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Every_build_that_the_project_file_names_is_made()
    {
        Write("kit.asm", Choice);
        Write(
            "relist.json",
            """{ "root": "kit.asm", "builds": [ { "name": "fast", "define": ["FAST"] }, { "name": "slow", "define": ["SLOW"], "output": "out-slow.hex" } ] }"""
        );
        (int code, string errors) = await RunAsync("build", "--all", InFolder("kit.asm"));
        Assert.True(code == 0, errors);
        Assert.Contains(":0400000001300128", Read("fast.hex"), StringComparison.Ordinal);
        Assert.Contains(":0400000002300128", Read("out-slow.hex"), StringComparison.Ordinal);
        (code, errors) = await RunAsync("build", "--build", "medium", InFolder("kit.asm"));
        Assert.Equal(2, code);
        Assert.Contains("It names fast, slow.", errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_chip_that_is_programmed_once_gets_no_HEX_without_a_configuration_word()
    {
        Write("once.asm", " list p=16c71\n #include <p16c71.inc>\n org 0\n goto $\n end\n");
        (int code, string errors) = await RunAsync("build", InFolder("once.asm"));
        Assert.Equal(1, code);
        Assert.Contains("can be programmed only once", errors, StringComparison.Ordinal);
        Assert.False(File.Exists(InFolder("once.hex")));
        (code, errors) = await RunAsync("build", InFolder("once.asm"), "--accept-doubts");
        Assert.True(code == 0, errors);
        Assert.True(File.Exists(InFolder("once.hex")));
    }

    [Theory]
    [InlineData(" goto lost\n end\n")]
    [InlineData("loop goto loop ;? is this right?\n end\n", "--no-open-doubts")]
    public async Task A_build_that_is_refused_shows_its_reason_first_and_no_checksum(string end, params string[] more)
    {
        Write("a.asm", " list p=16f84a\n include <p16f84a.inc>\n __config _XT_OSC & _WDT_OFF & _CP_OFF\n" + end);
        (int code, string errors) = await RunAsync(["build", InFolder("a.asm"), .. more]);
        Assert.Equal(1, code);
        Assert.StartsWith("relist: No HEX is written: ", errors, StringComparison.Ordinal);
        Assert.DoesNotContain("checksum", errors, StringComparison.Ordinal);
        Assert.False(File.Exists(InFolder("a.hex")));
    }

    [Fact]
    public async Task The_cautions_are_named_after_the_HEX_and_shown_offline()
    {
        Write("kit.asm", Choice);
        (int code, string errors) = await RunAsync("build", InFolder("kit.asm"), "--define", "FAST");
        Assert.Equal(0, code);
        Assert.Contains("relist explain safety", errors, StringComparison.Ordinal);
        using RelistProcess explain = RelistProcess.Start("explain", "safety");
        string text = await explain.OutputAsync();
        Assert.Equal(0, (await explain.EndAsync()).Code);
        Assert.Contains("One-time-programmable parts", text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_crystal_of_the_board_is_compared_with_the_oscillator_setting()
    {
        Write("kit.asm", Choice);
        Write("relist.json", """{ "define": ["FAST"], "board": { "crystal": "20 MHz" } }""");
        (int code, string errors) = await RunAsync("check", InFolder("kit.asm"));
        Assert.Equal(1, code);
        Assert.Contains("clock-does-not-fit", errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Problems_that_are_switched_off_are_counted()
    {
        Write(
            "kit.asm",
            " list p=16f84a\n #include <p16f84a.inc>\n __config 0x3ff1\n org 0\n movlw 0\n movwf TRISA ; relist: ignore wrong-bank\n movwf TRISB\n goto $\nold nop\n goto old\n end\n"
        );
        (int code, string text) = await RunAsync("check", InFolder("kit.asm"));
        Assert.Equal(1, code);
        Assert.EndsWith("1 warning, 1 note\nnot shown: 1 by comments\n", text, StringComparison.Ordinal);
        Write("relist.json", """{ "ignore": ["wrong-bank", "unused-code"] }""");
        (code, text) = await RunAsync("check", InFolder("kit.asm"));
        Assert.Equal((0, "no problems\nnot shown: 4 by relist.json\n"), (code, text));
    }

    [Fact]
    public async Task An_include_from_elsewhere_is_used_and_named()
    {
        Directory.CreateDirectory(InFolder("lib"));
        Write("lib/wait.inc", "wait return\n");
        Write(
            "kit.asm",
            " list p=16f84a\n __config 0x3ff1\n org 0\n call wait\n goto $\n include \"D:\\\\work\\\\WAIT.INC\"\n end\n"
        );
        (int code, string errors) = await RunAsync("build", InFolder("kit.asm"));
        Assert.True(code == 0, errors);
        Assert.Contains("include-elsewhere", errors, StringComparison.Ordinal);
        Assert.Contains(":06000000022001280800", Read("kit.hex"), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("01-configuration-first")]
    [InlineData("02-texte-im-eeprom")]
    [InlineData("03-nom-puis-define")]
    public async Task A_published_form_agrees_with_its_published_HEX(string name)
    {
        string fixtures = Path.Combine(Repository.Root, "tests", "fixtures", "published");
        IEnumerable<KeyValuePair<int, ushort>> words = File.ReadLines(Path.Combine(fixtures, name + ".words"))
            .Select(line => line.Split(' '))
            .Select(cells =>
                KeyValuePair.Create(
                    int.Parse(cells[0], NumberStyles.HexNumber, CultureInfo.InvariantCulture),
                    ushort.Parse(cells[1], NumberStyles.HexNumber, CultureInfo.InvariantCulture)
                )
            );
        Write("published.hex", IntelHexWriter.Write(WordMemory.From(words)));
        (int code, string text) = await RunAsync(
            "build",
            Path.Combine(fixtures, name + ".asm"),
            "-o",
            InFolder("built.hex"),
            "--against",
            InFolder("published.hex")
        );
        Assert.True(code == 0, text);
    }

    private static async Task<(int Code, string Text)> RunAsync(params string[] arguments)
    {
        using RelistProcess relist = RelistProcess.Start(arguments);
        string text = await relist.OutputAsync();
        (int code, string errors) = await relist.EndAsync();
        return (code, text + errors);
    }

    private void Write(string name, string text) => File.WriteAllText(InFolder(name), text);

    private string Read(string name) => File.ReadAllText(InFolder(name));

    private string InFolder(string name) => Path.Combine(folder.FullName, name);
}
