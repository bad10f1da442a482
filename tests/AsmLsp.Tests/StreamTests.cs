namespace AsmLsp.Tests;

/// <summary>Standard streams that are closed, full or files, and arguments that are not what they look like: a sentence and an exit code, and no file lost.</summary>
public sealed class StreamTests : IDisposable
{
    private const string Source =
        "        list    p=16f84a\n        __config 0x3ff1\n        org     0\nstart   movlw   1\n        movwf   6\n        goto    start\n        end\n";

    private readonly string folder = Directory.CreateTempSubdirectory("relist-streams-").FullName;

    public StreamTests()
    {
        Write("main.asm", Source);
        Write("kit.txt", Source);
    }

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Theory]
    [InlineData("\"$RELIST\" chips >/dev/full", "No space left")]
    [InlineData("\"$RELIST\" chips >&-", "Standard output could not be written")]
    [InlineData("\"$RELIST\" tidy - <main.asm >/dev/full", "No space left")]
    [InlineData("\"$RELIST\" recover kit.txt >/dev/full", "No space left")]
    [InlineData("\"$RELIST\" build main.asm -o - >&-", "Standard output could not be written")]
    [InlineData("\"$RELIST\" check - <&-", "standard input is closed")]
    [InlineData("\"$RELIST\" recover - <&-", "standard input is closed")]
    [InlineData("yes | \"$RELIST\" check -", "longer than 8 MB")]
    [InlineData("yes | \"$RELIST\" recover -", "longer than 2 MB")]
    [InlineData("\"$RELIST\" build ''", "an argument is empty")]
    [InlineData("\"$RELIST\" build main.asm -o ''", "an argument is empty")]
    public async Task Stream_that_cannot_be_used_gives_a_sentence_and_2(string line, string says)
    {
        (int code, string errors) = await ShellAsync(line);
        Assert.Equal(2, code);
        Assert.Contains(says, errors, StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", errors, StringComparison.Ordinal);
        Assert.DoesNotContain("fault of relist", errors, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("\"$RELIST\" build main.asm 2>/dev/full")]
    [InlineData("\"$RELIST\" build main.asm 2>&-")]
    [InlineData("\"$RELIST\" build main.asm <&- >&- 2>&-")]
    public async Task Error_stream_that_takes_nothing_does_not_stop_the_work(string line)
    {
        (int code, _) = await ShellAsync(line);
        Assert.Equal(0, code);
        Assert.StartsWith(":", await File.ReadAllTextAsync(Path.Combine(folder, "main.hex")), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("ln main.asm other.asm; \"$RELIST\" build main.asm -o other.asm")]
    [InlineData("ln -s main.asm other.asm; \"$RELIST\" build main.asm --words other.asm")]
    [InlineData("\"$RELIST\" build main.asm -o ././main.asm")]
    [InlineData("\"$RELIST\" build main.asm --words main.hex")]
    [InlineData("\"$RELIST\" build - -o main.asm <main.asm")]
    [InlineData("\"$RELIST\" recover - -o kit.txt <kit.txt")]
    [InlineData("\"$RELIST\" recover kit.txt -o ./kit.txt")]
    [InlineData("ln kit.txt other.txt; \"$RELIST\" recover kit.txt -o out.asm --report other.txt")]
    [InlineData("ln -s kit.txt other.txt; \"$RELIST\" recover kit.txt -o out.asm --review other.txt")]
    [InlineData("\"$RELIST\" recover kit.txt -o out.asm --report out.asm")]
    [InlineData("\"$RELIST\" recover kit.txt >>kit.txt")]
    [InlineData("cp main.asm second.asm; \"$RELIST\" compare --lines main.asm second.asm -o ./main.asm")]
    [InlineData(
        "\"$RELIST\" build main.asm -o out.hex; ln out.hex other.hex; \"$RELIST\" disassemble out.hex --chip 16F84A -o other.hex"
    )]
    [InlineData("\"$RELIST\" build main.asm -o out.hex; \"$RELIST\" build main.asm --against out.hex -o ./out.hex")]
    public async Task Output_that_is_an_input_or_another_output_is_refused(string line)
    {
        (int code, string errors) = await ShellAsync(line);
        Assert.Equal(2, code);
        Assert.Contains("Nothing is written", errors, StringComparison.Ordinal);
        Assert.Equal(Source, await File.ReadAllTextAsync(Path.Combine(folder, "main.asm")));
        Assert.Equal(Source, await File.ReadAllTextAsync(Path.Combine(folder, "kit.txt")));
    }

    [Fact]
    public async Task Included_file_is_an_input_too()
    {
        Write("part.inc", "lamp equ 3\n");
        Write("whole.asm", " include \"part.inc\"\n" + Source);
        (int code, _) = await ShellAsync("\"$RELIST\" build whole.asm -o part.inc");
        Assert.Equal(2, code);
        Assert.Equal("lamp equ 3\n", await File.ReadAllTextAsync(Path.Combine(folder, "part.inc")));
    }

    [Fact]
    public async Task File_whose_name_begins_like_a_list_of_arguments_is_a_file()
    {
        Write("@list", "main.asm\n");
        Write("main.asm", "nop\n");
        (int code, string errors) = await ShellAsync("\"$RELIST\" tidy @list");
        Assert.Contains("@list", errors, StringComparison.Ordinal);
        Assert.NotEqual(2, code);
        Assert.Equal("nop\n", await File.ReadAllTextAsync(Path.Combine(folder, "main.asm")));
    }

    [Fact]
    public async Task File_that_is_missing_is_not_said_to_have_no_problems()
    {
        (int code, string errors) = await ShellAsync("\"$RELIST\" check nowhere.asm");
        Assert.Equal(2, code);
        Assert.DoesNotContain("no problems", errors, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("\u001b[31m")]
    [InlineData("\u009b31m")]
    [InlineData("\u202e")]
    [InlineData("\u2066")]
    public async Task Characters_that_command_a_terminal_are_shown_by_their_numbers(string hidden)
    {
        Write("main.asm", $" list p=16f84a\n movlw {hidden}x ; {hidden}\n end\n");
        Write("relist.json", $"{{ \"chip\": \"16F84A{hidden}\" }}");
        Write($"na{hidden}me.asm", " movlw nowhere\n");
        foreach (
            string line in (string[])
                [
                    "\"$RELIST\" check *.asm; true",
                    "\"$RELIST\" tidy main.asm --diff; true",
                    "\"$RELIST\" explain main.asm; true",
                    "\"$RELIST\" doctor; true",
                    "\"$RELIST\" build main.asm; true",
                    "\"$RELIST\" nosuchverb na*; true",
                ]
        )
        {
            using RelistProcess process = RelistProcess.Shell(folder, line);
            Task<string> output = process.OutputAsync();
            (_, string errors) = await process.EndAsync();
            string all = await output + errors;
            Assert.NotEmpty(all);
            Assert.DoesNotContain(hidden, all, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task Result_on_a_pipe_is_left_as_it_is()
    {
        const string WithEscape = "        nop                     ; \u001b[1m\n";
        Write("main.asm", WithEscape);
        using RelistProcess process = RelistProcess.Shell(folder, "\"$RELIST\" tidy - <main.asm");
        string output = await process.OutputAsync();
        await process.EndAsync();
        Assert.Contains("\u001b[1m", output, StringComparison.Ordinal);
    }

    private void Write(string name, string text) => File.WriteAllText(Path.Combine(folder, name), text);

    private async Task<(int Code, string Errors)> ShellAsync(string line)
    {
        using RelistProcess process = RelistProcess.Shell(folder, line);
        Task<string> output = process.OutputAsync();
        (int code, string errors) = await process.EndAsync();
        await output;
        return (code, errors);
    }
}
