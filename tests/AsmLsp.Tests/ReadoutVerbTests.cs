using System.Text.Json;

namespace AsmLsp.Tests;

/// <summary>Read-outs through the executable: sentence first, areas apart, exit codes, faulty files.</summary>
public sealed class ReadoutVerbTests : IDisposable
{
    private static readonly string Fixtures = Path.Combine(Repository.Root, "tests", "fixtures", "readouts");

    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("relist-readout");

    public void Dispose() => folder.Delete(recursive: true);

    [Theory]
    [InlineData("same.hex", 0, "This is the build")]
    [InlineData("calibration-differs.hex", 0, "Only the calibration word differs")]
    [InlineData("watchdog-on.hex", 1, "Only the configuration differs")]
    [InlineData("other-program.hex", 1, "This is another program")]
    public async Task Comparison_opens_with_its_sentence_and_ends_with_its_code(string name, int code, string sentence)
    {
        foreach (string build in (string[])["build.asm", "build.hex"])
        {
            (int ended, string output, _) = await RunAsync("compare", At(build), At(name), "--chip", "12F629");
            Assert.StartsWith(sentence, output, StringComparison.Ordinal);
            Assert.Equal(code, ended);
        }
    }

    [Fact]
    public async Task Groups_show_ranges_with_source_lines_and_every_word_with_all()
    {
        (_, string groups, _) = await RunAsync("compare", At("build.asm"), At("stopped.hex"));
        Assert.Contains("0x0023-0x002B  9 erased in the read-out", groups, StringComparison.Ordinal);
        Assert.Contains("bsf     GPIO,0", groups, StringComparison.Ordinal);
        Assert.DoesNotContain("0x0024  ", groups, StringComparison.Ordinal);
        (_, string all, _) = await RunAsync("compare", At("build.asm"), At("stopped.hex"), "--all");
        Assert.Contains("0x0024  ", all, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("blank.hex", 0, "Blank")]
    [InlineData("all-zero.hex", 1, "All zero")]
    [InlineData("factory-differs.hex", 0, "A program of 41 words")]
    public async Task Readout_alone_opens_with_its_sentence(string name, int code, string sentence)
    {
        (int ended, string output, _) = await RunAsync("readout", At(name), "--chip", "12F629");
        Assert.StartsWith(sentence, output, StringComparison.Ordinal);
        Assert.Equal(code, ended);
    }

    // 41 program words, 983 erased ones and the configuration masked as the rule of the chip has it: 'relist build' prints CDC7.
    [Theory]
    [InlineData("CDC7", 0)]
    [InlineData("0xCDC8", 1)]
    [InlineData("CDC7F", 2)]
    public async Task Typed_checksum_is_compared(string typed, int code)
    {
        (int ended, string output, string errors) = await RunAsync(
            "compare",
            At("build.asm"),
            At("same.hex"),
            "--checksum",
            typed
        );
        Assert.True(code == ended, output + errors);
        if (code < 2)
            Assert.Contains("Checksum CDC", output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Json_has_verdict_areas_words_and_checksums()
    {
        (int code, string output, _) = await RunAsync(
            "compare",
            At("build.asm"),
            At("watchdog-on.hex"),
            "--json",
            "--checksum",
            "CDC7"
        );
        Assert.Equal(1, code);
        using var json = JsonDocument.Parse(output);
        Assert.Equal("configuration-differs", json.RootElement.GetProperty("verdict").GetProperty("kind").GetString());
        Assert.False(json.RootElement.GetProperty("same").GetBoolean());
        Assert.Equal(
            "0x2007",
            json.RootElement.GetProperty("areas")[1].GetProperty("groups")[0].GetProperty("first").GetString()
        );
        Assert.True(json.RootElement.GetProperty("buildChecksums")[0].GetProperty("matches").GetBoolean());
    }

    [Fact]
    public async Task Faulty_record_is_refused_with_its_place_unless_lenient_and_never_certain()
    {
        string[] lines = await File.ReadAllLinesAsync(At("build.hex"));
        lines[3] = lines[3][..^2] + "00";
        string bad = Path.Combine(folder.FullName, "bad.hex");
        await File.WriteAllLinesAsync(bad, lines);
        (int code, string output, string errors) = await RunAsync("compare", At("build.asm"), bad);
        Assert.Equal((2, ""), (code, output));
        Assert.Contains("bad.hex:4:", errors, StringComparison.Ordinal);
        Assert.Contains("word 0x0008", errors, StringComparison.Ordinal);
        Assert.Contains("--lenient", errors, StringComparison.Ordinal);
        (code, output, errors) = await RunAsync("compare", At("build.asm"), bad, "--lenient");
        Assert.StartsWith("This is the build", output, StringComparison.Ordinal);
        Assert.Contains("bad.hex:4:", errors, StringComparison.Ordinal);
        Assert.Equal(1, code);
    }

    [Fact]
    public async Task Two_halves_are_joined()
    {
        (int code, string output, _) = await RunAsync(
            "readout",
            At("low-half.hex"),
            "--high",
            At("high-half.hex"),
            "--chip",
            "12F629"
        );
        Assert.StartsWith("A program of 41 words", output, StringComparison.Ordinal);
        Assert.Equal(0, code);
    }

    private static string At(string name) => Path.Combine(Fixtures, name);

    private static async Task<(int Code, string Output, string Errors)> RunAsync(params string[] arguments)
    {
        using RelistProcess relist = RelistProcess.Start(arguments);
        relist.CloseInput();
        Task<string> output = relist.OutputAsync();
        (int code, string errors) = await relist.EndAsync();
        return (code, await output, errors);
    }
}
