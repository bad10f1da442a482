namespace AsmLsp.Tests;

/// <summary>
/// The demo of docs/demo: its HEX file was worked out by hand from the fields of each word (crossing-words.md, check_words.py),
/// never taken from what is tested here.
/// </summary>
public class DemoTests
{
    private static string Demo(string name) => Path.Combine(AppContext.BaseDirectory, "demo", name);

    [Fact]
    public async Task Clean_source_builds_to_the_words_worked_out_by_hand()
    {
        string built = Path.Combine(Path.GetTempPath(), Path.GetRandomFileName() + ".hex");
        try
        {
            using RelistProcess relist = RelistProcess.Start("build", Demo("crossing.asm"), "-o", built);
            relist.CloseInput();
            Task<string> output = relist.OutputAsync();
            (int code, string errors) = await relist.EndAsync();
            Assert.True(code == 0, errors + await output);
            Assert.Equal(await File.ReadAllTextAsync(Demo("crossing.hex")), await File.ReadAllTextAsync(built));
        }
        finally
        {
            File.Delete(built);
        }
    }
}
