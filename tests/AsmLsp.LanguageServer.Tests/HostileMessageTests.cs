using System.Text.Json.Nodes;
using AsmLsp.LanguageServer.Tests.Harness;

namespace AsmLsp.LanguageServer.Tests;

/// <summary>Texts, names and lists that no good client sends, in messages and in the files of a workspace: answered, never believed, never a fault.</summary>
public sealed class HostileMessageTests
{
    private const string Source =
        " list p=16f84a\n __config 0x3ff1\n; [x](command:evil) <img src=x>\npulse macro ; [x](command:evil) <img src=x> \u001b[31m\n nop\n endm\nstart pulse\n goto start\n end\n";

    [Theory]
    [InlineData("workspace/diagnostic", """{"previousResultIds":[null]}""")]
    [InlineData("workspace/willRenameFiles", """{"files":[null]}""")]
    [InlineData(
        "textDocument/codeAction",
        """{"textDocument":{"uri":"file:///a.asm"},"range":{"start":{"line":0,"character":0},"end":{"line":0,"character":0}},"context":{"diagnostics":[null]}}"""
    )]
    public async Task List_with_an_entry_that_is_null_is_refused_in_words(string method, string parameters)
    {
        await using Desk desk = await Desk.StartAsync();
        // Not recorded: no client that follows the protocol sends it.
        JsonObject reply = await desk.Session.Client.Ask(method, JsonNode.Parse(parameters)!, record: false).Reply;
        Assert.Equal(-32602, (int)reply["error"]!["code"]!);
    }

    [Theory]
    [InlineData("{ \"chip\": \"\\ud800\" }")]
    [InlineData("{ \"\\udfff\": 1, \"root\": \"a\\u0000b.asm\" }")]
    [InlineData("{ \"include\": [\"\\u0000\"], \"output\": \"\\u0000\", \"clock\": \"\\ud800\" }")]
    [InlineData("{ \"board\": { \"marking\": \"\\udc00\\ud800\" } }")]
    public async Task Project_file_with_texts_that_are_none_is_no_fault(string project)
    {
        await using Desk desk = await Desk.StartAsync(inWorkspace: true);
        desk.Write("relist.json", project);
        desk.Open("main.asm", Source);
        JsonObject reply = await desk
            .Session.Client.Ask(
                "textDocument/hover",
                new JsonObject
                {
                    ["textDocument"] = new JsonObject { ["uri"] = desk.UriOf("main.asm") },
                    ["position"] = new JsonObject { ["line"] = 7, ["character"] = 2 },
                }
            )
            .Reply;
        Assert.Null(reply["error"]);
        Assert.NotNull(reply["result"]);
    }

    [Fact]
    public async Task Half_of_a_pair_in_a_document_keeps_the_text_in_step()
    {
        await using Session session = await Session.StartAsync(features: ProbeFeatures.WithText);
        session.Client.SendContent(
            "{\"jsonrpc\":\"2.0\",\"method\":\"textDocument/didOpen\",\"params\":{\"textDocument\":{\"uri\":\"file:///half.asm\",\"languageId\":\"asm\",\"version\":1,\"text\":\" nop ; \\ud83d end\"}}}"
        );
        Assert.Equal("1: nop ; \ufffd end", await session.TextAsync("file:///half.asm"));
    }

    [Fact]
    public async Task Settings_and_addresses_with_zero_characters_are_no_fault()
    {
        await using Desk desk = await Desk.StartAsync(
            settings: JsonNode.Parse("""{"include":["a\u0000b"],"output":"\u0000","project":"\u0000"}""")
        );
        desk.Open("main.asm", " include \"x\u0000y\"\n" + Source);
        foreach (string uri in (string[])[desk.UriOf("main.asm"), "file:///a%00b.asm"])
        {
            JsonObject reply = await desk
                .Session.Client.Ask(
                    "textDocument/documentSymbol",
                    new JsonObject { ["textDocument"] = new JsonObject { ["uri"] = uri } }
                )
                .Reply;
            Assert.Null(reply["error"]);
        }
    }

    [Fact]
    public async Task Comments_are_shown_as_text_in_hovers_and_completion_and_command_nothing()
    {
        await using Desk desk = await Desk.StartAsync();
        desk.Open("main.asm", Source);
        JsonNode? hover = await desk.Session.Client.RequestAsync(
            "textDocument/hover",
            new JsonObject
            {
                ["textDocument"] = new JsonObject { ["uri"] = desk.UriOf("main.asm") },
                ["position"] = new JsonObject { ["line"] = 6, ["character"] = 8 },
            }
        );
        JsonNode? item = await desk.Session.Client.RequestAsync(
            "completionItem/resolve",
            new JsonObject { ["label"] = "pulse", ["data"] = new JsonArray("name", "pulse", desk.UriOf("main.asm")) }
        );
        foreach (string shown in (string[])[hover!.ToJsonString(), item!["documentation"]!.ToJsonString()])
        {
            Assert.DoesNotContain("\\u001b", shown, StringComparison.OrdinalIgnoreCase);
        }

        string about = (string)item["documentation"]!["value"]!;
        Assert.Contains("command:evil", about, StringComparison.Ordinal);
        Assert.DoesNotContain(" [x](", about, StringComparison.Ordinal);
        Assert.DoesNotContain(" <img", about, StringComparison.Ordinal);
    }
}
