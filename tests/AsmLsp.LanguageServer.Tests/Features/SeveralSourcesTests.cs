using System.Text.Json.Nodes;
using AsmLsp.LanguageServer.Tests.Harness;

namespace AsmLsp.LanguageServer.Tests.Features;

/// <summary>A program of several files, named in relist.json: the editor understands them together, and names of one file stay its own.</summary>
public sealed class SeveralSourcesTests
{
    private const string Lamp =
        " list p=16f84a\n global blink\n code\nblink nop\nloop decfsz 0x20,f\n goto loop\n return\n end\n";

    private const string Main =
        " list p=16f84a\n __config 0x3ff1\n extern blink\n org 0\nloop call blink\n goto loop\n end\n";

    [Fact]
    public async Task A_shared_name_leads_to_the_file_that_defines_it()
    {
        await using Desk desk = await StartAsync();
        Assert.Equal(["lamp.asm:4:1"], Desk.Places(await desk.AtAsync("textDocument/definition", "main.asm", 4, 11)));
    }

    [Fact]
    public async Task A_name_that_two_files_have_is_the_own_one_in_each()
    {
        await using Desk desk = await StartAsync();
        Assert.Equal(["main.asm:5:1"], Desk.Places(await desk.AtAsync("textDocument/definition", "main.asm", 5, 6)));
        desk.Open("lamp.asm", Lamp);
        Assert.Equal(["lamp.asm:5:1"], Desk.Places(await desk.AtAsync("textDocument/definition", "lamp.asm", 5, 6)));
    }

    [Fact]
    public async Task Renaming_a_local_name_leaves_the_other_file_alone()
    {
        await using Desk desk = await StartAsync();
        JsonNode? edit = await desk.AtAsync(
            "textDocument/rename",
            "main.asm",
            5,
            6,
            new JsonObject { ["newName"] = "again" }
        );
        Assert.DoesNotContain("lamp.asm", edit!.ToJsonString(), StringComparison.Ordinal);
        Assert.Contains("again", edit.ToJsonString(), StringComparison.Ordinal);
    }

    private static async Task<Desk> StartAsync()
    {
        Desk desk = await Desk.StartAsync();
        desk.Write("relist.json", """{ "files": ["main.asm", "lamp.asm"] }""");
        desk.Write("lamp.asm", Lamp);
        desk.Open("main.asm", Main);
        return desk;
    }
}
