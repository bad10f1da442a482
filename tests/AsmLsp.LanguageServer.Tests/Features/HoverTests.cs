using System.Text.Json.Nodes;
using AsmLsp.LanguageServer.Tests.Harness;

namespace AsmLsp.LanguageServer.Tests.Features;

public sealed class HoverTests
{
    private const string Source =
        " list p=16f84a\n __config 0x3ff1\nloop mov{|}lw 0x1f ; comment\n movwf PORTB\n goto loop\n end\n";

    [Fact]
    public async Task Instruction_is_explained_in_markdown_with_its_stretch()
    {
        await using Desk desk = await Desk.StartAsync();
        JsonNode? hover = await desk.AskAsync("textDocument/hover", Source);
        Assert.Equal("markdown", (string)hover!["contents"]!["kind"]!);
        Assert.Contains("**", (string)hover["contents"]!["value"]!, StringComparison.Ordinal);
        Assert.Equal(
            """{"start":{"line":2,"character":5},"end":{"line":2,"character":10}}""",
            hover["range"]!.ToJsonString()
        );
    }

    [Fact]
    public async Task Client_that_reads_plain_text_only_gets_plain_text()
    {
        await using Desk desk = await Desk.StartAsync("""{"textDocument":{"hover":{"contentFormat":["plaintext"]}}}""");
        JsonNode? hover = await desk.AskAsync("textDocument/hover", Source);
        Assert.Equal("plaintext", (string)hover!["contents"]!["kind"]!);
        Assert.DoesNotContain("**", (string)hover["contents"]!["value"]!, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Client_that_declares_nothing_gets_a_string()
    {
        await using Desk desk = await Desk.StartAsync("{}");
        JsonNode? hover = await desk.AskAsync("textDocument/hover", Source);
        Assert.DoesNotContain("**", (string)hover!["contents"]!, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(2, 0, true)]
    [InlineData(2, 20, false)]
    [InlineData(3, 0, false)]
    [InlineData(3, 9, true)]
    [InlineData(6, 0, false)]
    [InlineData(99, 99, false)]
    public async Task Nothing_is_said_about_blanks_and_comments(int line, int character, bool said)
    {
        await using Desk desk = await Desk.StartAsync();
        desk.Open("main.asm", Source);
        Assert.Equal(said, await desk.AtAsync("textDocument/hover", "main.asm", line, character) is not null);
    }

    [Fact]
    public async Task Clock_of_the_project_file_gives_times()
    {
        await using Desk desk = await Desk.StartAsync(settings: new JsonObject { ["clock"] = "20 MHz" });
        desk.Write("relist.json", """{"clock":"4 MHz"}""");
        // One instruction cycle is four periods of the clock (data sheet DS35007B, 6.0): 1 µs at 4 MHz.
        Assert.Contains(
            "1 µs",
            (string)(await desk.AskAsync("textDocument/hover", Source))!["contents"]!["value"]!,
            StringComparison.Ordinal
        );
    }

    [Fact]
    public async Task Clock_of_the_settings_gives_times_where_there_is_no_project_file()
    {
        await using Desk desk = await Desk.StartAsync(settings: new JsonObject { ["clock"] = "20 MHz" });
        Assert.Contains(
            "200 ns",
            (string)(await desk.AskAsync("textDocument/hover", Source))!["contents"]!["value"]!,
            StringComparison.Ordinal
        );
    }
}
