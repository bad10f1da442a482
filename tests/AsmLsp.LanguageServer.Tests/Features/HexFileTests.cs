using System.Text.Json.Nodes;
using AsmLsp.LanguageServer.Tests.Harness;

namespace AsmLsp.LanguageServer.Tests.Features;

/// <summary>HEX files in the editor; the records are worked out after Intel's specification of 1988.</summary>
public sealed class HexFileTests
{
    // goto 1; movlw 5; goto 1; configuration 0x3FF1; EEPROM 3.
    private const string Hex =
        ":020000040000FA\n:06000000012805300128" + "73\n:02400E00F13F80\n:024200000300B9\n:00000001FF\n";

    private const string Source =
        " list p=16f84a\n __config 0x3ff1\n goto 1\n movlw 5\n goto 1\n org 0x2100\n de 3\n end\n";

    [Theory]
    [InlineData(1, 14, "`0x0001`: `movlw 0x05` (`0x3005`)")]
    [InlineData(1, 4, "word `0x0000`")]
    [InlineData(2, 10, "Configuration (`0x2007`): `0x3FF1`")]
    [InlineData(2, 10, "watchdog off")]
    [InlineData(3, 9, "EEPROM byte 0 (`0x2100`): `0x03`, 3")]
    [InlineData(4, 7, "the end of the file")]
    public async Task Hover_says_what_a_place_of_a_record_holds(int line, int character, string text)
    {
        await using Desk desk = await Desk.StartAsync(settings: new JsonObject { ["chip"] = "16F84A" });
        desk.Open("kit.hex", Hex);
        JsonNode? hover = await desk.AtAsync("textDocument/hover", "kit.hex", line, character);
        Assert.Contains(text, (string)hover!["contents"]!["value"]!, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Outline_has_the_areas()
    {
        await using Desk desk = await Desk.StartAsync();
        desk.Open("kit.hex", Hex);
        JsonNode? outline = await desk.OfAsync("textDocument/documentSymbol", "kit.hex");
        Assert.Equal(["Program", "Configuration", "EEPROM"], outline!.AsArray().Select(e => (string)e!["name"]!));
        Assert.Equal("3 words", (string)outline[0]!["detail"]!);
        Assert.Equal("0x0000 to 0x0002", (string)outline[0]!["children"]![0]!["name"]!);
    }

    [Fact]
    public async Task Faulty_record_and_words_beyond_the_chip_are_problems_and_no_problems_of_a_source()
    {
        await using Desk desk = await Desk.StartAsync(settings: new JsonObject { ["chip"] = "16F84A" });
        string bad = Hex.Replace("73\n", "74\n", StringComparison.Ordinal)
            .Replace(":024200000300B9", ":0210000005" + "2800\n:02080000052" + "8C9", StringComparison.Ordinal);
        desk.Open("kit.hex", bad);
        JsonObject reported = await desk.Session.Client.WaitForAsync(
            "textDocument/publishDiagnostics",
            message => (string?)message["uri"] == desk.UriOf("kit.hex")
        );
        string[] messages =
        [
            .. reported["params"]!["diagnostics"]!
                .AsArray()
                .Select(d => $"{(int)d!["range"]!["start"]!["line"]!}: {(string)d["message"]!}"),
        ];
        Assert.Contains(
            messages,
            m => m.StartsWith("1: The checksum of the record at word 0x0000", StringComparison.Ordinal)
        );
        Assert.Contains(
            messages,
            m => m.StartsWith("4: Program memory of PIC16F84A ends at 0x03FF", StringComparison.Ordinal)
        );
    }

    [Fact]
    public async Task Areas_have_colors_of_their_own()
    {
        await using Desk desk = await Desk.StartAsync();
        desk.Open("kit.hex", Hex);
        JsonNode? tokens = await desk.OfAsync("textDocument/semanticTokens/full", "kit.hex");
        int[] data = [.. tokens!["data"]!.AsArray().Select(n => (int)n!)];
        // Colon, length, address, type, data, checksum of the program's record: its data are instructions (type 0, 'keyword').
        Assert.Equal([0, 2, 12, 0, 0], data[(10 * 5)..(11 * 5)]);
    }

    [Fact]
    public async Task Disassemble_makes_a_source_beside_the_file()
    {
        await using Desk desk = await Desk.StartAsync(
            answer: (method, _) =>
                method switch
                {
                    "workspace/applyEdit" => new JsonObject { ["applied"] = false },
                    "window/showDocument" => new JsonObject { ["success"] = true },
                    _ => null,
                }
        );
        desk.Write("kit.hex", Hex);
        desk.Open("kit.hex", Hex);
        JsonNode? made = await desk.Session.Client.RequestAsync(
            "workspace/executeCommand",
            new JsonObject
            {
                ["command"] = "relist.disassemble",
                ["arguments"] = new JsonArray(desk.UriOf("kit.hex"), "16F84A"),
            }
        );
        Assert.Equal(desk.UriOf("kit.asm"), (string)made!);
        Assert.Contains(
            "movlw",
            await File.ReadAllTextAsync(Path.Combine(desk.Folder, "kit.asm")),
            StringComparison.OrdinalIgnoreCase
        );
    }

    [Fact]
    public async Task Compare_with_a_source_beside_it_is_offered_and_gives_the_verdict()
    {
        await using Desk desk = await Desk.StartAsync();
        desk.Write("kit.asm", Source);
        desk.Write("kit.hex", Hex);
        desk.Open("kit.hex", Hex);
        JsonNode? actions = await desk.OfAsync(
            "textDocument/codeAction",
            "kit.hex",
            new JsonObject
            {
                ["range"] = JsonNode.Parse("""{"start":{"line":0,"character":0},"end":{"line":0,"character":0}}"""),
                ["context"] = new JsonObject { ["diagnostics"] = new JsonArray() },
            }
        );
        Assert.Equal(
            ["Disassemble for PIC16F84A", "Show the bench card", "Compare with kit.asm"],
            actions!.AsArray().Select(a => (string)a!["title"]!)
        );
        JsonNode? result = await desk.Session.Client.RequestAsync(
            "workspace/executeCommand",
            new JsonObject
            {
                ["command"] = (string)actions[2]!["command"]!,
                ["arguments"] = actions[2]!["arguments"]!.DeepClone(),
            }
        );
        Assert.Equal("same-build", (string)result!["kind"]!);
        Assert.StartsWith("This is the build", (string)result["report"]!, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Bench_card_of_a_source_and_of_a_hex_file_is_given_as_a_page()
    {
        await using Desk desk = await Desk.StartAsync(settings: new JsonObject { ["chip"] = "16F84A" });
        desk.Open("kit.asm", Source);
        desk.Open("other.hex", Hex);
        foreach (string name in (string[])["kit.asm", "other.hex"])
        {
            JsonNode? page = await desk.Session.Client.RequestAsync(
                "workspace/executeCommand",
                new JsonObject
                {
                    ["command"] = "relist.showCard",
                    ["arguments"] = new JsonArray(desk.UriOf(name), "content"),
                }
            );
            Assert.StartsWith("<!DOCTYPE html>", (string)page!, StringComparison.Ordinal);
            Assert.Contains("PIC16F84A", (string)page!, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task Bench_card_is_shown_as_a_document_where_the_client_can_show_one()
    {
        await using Desk desk = await Desk.StartAsync(
            answer: (method, _) => method == "window/showDocument" ? new JsonObject { ["success"] = true } : null
        );
        desk.Open("kit.asm", Source);
        JsonNode? address = await desk.Session.Client.RequestAsync(
            "workspace/executeCommand",
            new JsonObject { ["command"] = "relist.showCard", ["arguments"] = new JsonArray(desk.UriOf("kit.asm")) }
        );
        Assert.EndsWith(".html", (string)address!, StringComparison.Ordinal);
        JsonObject shown = await desk.Session.Client.WaitForAsync("window/showDocument");
        Assert.Equal((string)address!, (string)shown["params"]!["uri"]!);
    }

    [Fact]
    public async Task Program_is_put_onto_another_chip_in_a_file_beside_it()
    {
        await using Desk desk = await Desk.StartAsync(
            answer: (method, _) =>
                method == "workspace/applyEdit" ? new JsonObject { ["applied"] = false }
                : method == "window/showDocument" ? new JsonObject { ["success"] = true }
                : null
        );
        desk.Write("kit.asm", Source);
        desk.Open("kit.asm", Source);
        JsonNode? made = await desk.Session.Client.RequestAsync(
            "workspace/executeCommand",
            new JsonObject
            {
                ["command"] = "relist.replaceChip",
                ["arguments"] = new JsonArray(desk.UriOf("kit.asm"), "16F628A"),
            }
        );
        Assert.Equal(desk.UriOf("kit-16f628a.asm"), (string)made!);
        Assert.Contains(
            "p=16f628a",
            await File.ReadAllTextAsync(Path.Combine(desk.Folder, "kit-16f628a.asm")),
            StringComparison.Ordinal
        );
    }
}
