using System.Text.Json.Nodes;
using AsmLsp.LanguageServer.Tests.Harness;

namespace AsmLsp.LanguageServer.Tests.Features;

public sealed class NavigationTests
{
    private const string Head = " list p=16f84a\n __config 0x3ff1\n";

    [Theory]
    [InlineData("start nop\n goto st{|}art\n end\n", "main.asm:3:1")]
    [InlineData("n set 1\nn set 2\n movlw {|}n\n end\n", "main.asm:3:1,main.asm:4:1")]
    public async Task Definition_of_a_name(string source, string places)
    {
        await using Desk desk = await Desk.StartAsync();
        Assert.Equal(places.Split(','), Desk.Places(await desk.AskAsync("textDocument/definition", Head + source)));
    }

    [Theory]
    [InlineData(" mov{|}lw 5\n end\n")]
    [InlineData("{|}")]
    public async Task Nothing_to_go_to(string source)
    {
        await using Desk desk = await Desk.StartAsync();
        Assert.Empty((await desk.AskAsync("textDocument/definition", Head + source))!.AsArray());
    }

    [Fact]
    public async Task Definition_of_an_include_is_the_file_and_names_lead_across_files()
    {
        await using Desk desk = await Desk.StartAsync();
        desk.Write("delay.inc", "\nwait nop\n return\n");
        Assert.Equal(
            ["delay.inc:1:1"],
            Desk.Places(
                await desk.AskAsync("textDocument/definition", Head + " call wait\n include \"del{|}ay.inc\"\n end\n")
            )
        );
        Assert.Equal(["delay.inc:2:1"], Desk.Places(await desk.AtAsync("textDocument/definition", "main.asm", 2, 7)));
        Assert.Equal(["delay.inc:2:1"], Desk.Places(await desk.AtAsync("textDocument/declaration", "main.asm", 2, 7)));
    }

    [Fact]
    public async Task Place_far_outside_the_document_is_moved_inside()
    {
        await using Desk desk = await Desk.StartAsync();
        desk.Open("main.asm", Head + "start nop\n end");
        Assert.Empty((await desk.AtAsync("textDocument/definition", "main.asm", 4000, 9))!.AsArray());
        Assert.Empty((await desk.AtAsync("textDocument/definition", "other.asm", 0, 0))!.AsArray());
    }

    [Theory]
    [InlineData("start nop\n goto {|}start\n call start\n end\n", true, "3:1,4:7,5:7")]
    [InlineData("start nop\n goto {|}start\n call start\n end\n", false, "4:7,5:7")]
    public async Task References_of_a_name(string source, bool withDefinition, string places)
    {
        await using Desk desk = await Desk.StartAsync();
        var more = new JsonObject { ["context"] = new JsonObject { ["includeDeclaration"] = withDefinition } };
        Assert.Equal(
            places.Split(',').Select(place => "main.asm:" + place),
            Desk.Places(await desk.AskAsync("textDocument/references", Head + source, more: more))
        );
    }

    [Fact]
    public async Task Highlight_shows_what_writes_to_a_register()
    {
        await using Desk desk = await Desk.StartAsync();
        JsonNode? found = await desk.AskAsync(
            "textDocument/documentHighlight",
            Head + "n equ 0c\n movwf {|}n\n movf n,w\n incf n,f\n btfss n,0\n bsf n,0\n end\n"
        );
        Assert.Equal(
            "3w 4w 5r 6w 7r 8w",
            string.Join(
                ' ',
                found!
                    .AsArray()
                    .Select(place =>
                        $"{(int)place!["range"]!["start"]!["line"]! + 1}{((int)place["kind"]! == 3 ? 'w' : 'r')}"
                    )
            )
        );
    }

    [Fact]
    public async Task Outline_has_sections_routines_blocks_macros_and_values()
    {
        await using Desk desk = await Desk.StartAsync();
        const string Source =
            " list p=16f84a\nled equ 3\n cblock 0x0c\n count, big:2\n endc\nflash macro\n nop\n endm\n org 0\n goto main\n org 4\nisr retfie\nmain call wait\nloop goto loop\nwait return\n end\n";
        desk.Open("main.asm", Source);
        JsonNode? tree = await desk.OfAsync("textDocument/documentSymbol", "main.asm");
        Assert.Equal(
            "led(14)0x03 Variables at 0x0c(23)[count(8)0x0C big(8)0x0D, 2 bytes] flash(6) org 0(3) org 4(3)[isr(12)0x0004[main(20)0x0005 loop(20)0x0006] wait(12)0x0007]",
            Show(tree!.AsArray())
        );
        JsonNode isr = tree.AsArray()[4]!["children"]![0]!;
        Assert.Equal("11-13", $"{isr["range"]!["start"]!["line"]}-{isr["range"]!["end"]!["line"]}");
    }

    [Fact]
    public async Task Outline_is_flat_for_clients_that_declare_no_tree()
    {
        await using Desk desk = await Desk.StartAsync("{}");
        desk.Open("main.asm", " list p=16f84a\n org 0\nmain call wait\nloop goto loop\nwait return\n end\n");
        JsonNode? list = await desk.OfAsync("textDocument/documentSymbol", "main.asm");
        Assert.Equal(
            "org 0 main/org 0 loop/main wait/org 0",
            string.Join(
                ' ',
                list!
                    .AsArray()
                    .Select(symbol =>
                        (string)symbol!["name"]! + (symbol["containerName"] is { } container ? "/" + container : "")
                    )
            )
        );
        Assert.All(list.AsArray(), symbol => Assert.NotNull(symbol!["location"]));
    }

    private static string Show(JsonArray symbols) =>
        string.Join(
            ' ',
            symbols.Select(symbol =>
                $"{symbol!["name"]}({symbol["kind"]}){symbol["detail"]}{(symbol["children"] is JsonArray children ? $"[{Show(children)}]" : "")}"
            )
        );
}
