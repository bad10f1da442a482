using System.Text.Json;

namespace AsmLsp.Tests;

/// <summary>A program put onto another chip through the executable.</summary>
public sealed class ReplaceVerbTests : IDisposable
{
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("relist-replace");

    public void Dispose() => folder.Delete(recursive: true);

    [Fact]
    public async Task New_source_of_the_demo_builds_for_the_new_chip()
    {
        string made = Path.Combine(folder.FullName, "new.asm");
        (int code, string output, string errors) = await RunAsync("replace", Demo, "--chip", "16F628A", "-o", made);
        Assert.True(code == 0, output + errors);
        Assert.Contains("Proved: ", output, StringComparison.Ordinal);
        Assert.Contains("all pins did the same", output, StringComparison.Ordinal);
        (code, _, errors) = await RunAsync("build", made);
        Assert.True(code == 0, errors);
        Assert.Contains("PIC16F628A", errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Without_an_output_the_changes_are_shown_and_nothing_is_written()
    {
        (int code, string output, _) = await RunAsync("replace", Demo, "--chip", "16F628A");
        Assert.Equal(0, code);
        Assert.Contains("+         list    p=16f628a", output, StringComparison.Ordinal);
        Assert.Empty(folder.GetFiles());
    }

    [Fact]
    public async Task What_is_left_to_decide_ends_with_1_and_is_in_the_json()
    {
        (int code, string output, _) = await RunAsync("replace", Demo, "--chip", "16F88", "--json");
        Assert.Equal(1, code);
        using var json = JsonDocument.Parse(output);
        Assert.False(json.RootElement.GetProperty("clean").GetBoolean());
        Assert.Contains(
            json.RootElement.GetProperty("findings").EnumerateArray(),
            f => f.GetProperty("kind").GetString() == "doubt"
        );
    }

    [Fact]
    public async Task Unknown_chip_ends_with_2() =>
        Assert.Equal(2, (await RunAsync("replace", Demo, "--chip", "16F9999")).Code);

    private static string Demo => Path.Combine(Repository.Root, "docs", "demo", "crossing.asm");

    private static async Task<(int Code, string Output, string Errors)> RunAsync(params string[] arguments)
    {
        using RelistProcess relist = RelistProcess.Start(arguments);
        relist.CloseInput();
        Task<string> output = relist.OutputAsync();
        (int code, string errors) = await relist.EndAsync();
        return (code, await output, errors);
    }
}
