using System.Text.Json.Nodes;
using AsmLsp.LanguageServer.Tests.Harness;

namespace AsmLsp.LanguageServer.Tests.Features;

public sealed class RenameTests
{
    private const string Head = " list p=16f84a\n __config 0x3ff1\n";

    [Theory]
    [InlineData(
        "{|}start nop\n goto start ; start over\n end\n",
        "begin",
        "begin nop\n goto begin ; start over\n end\n"
    )]
    [InlineData(
        "led equ 3\n#define LAMP PORTB,led\n bsf LAMP\n movlw {|}led\n end\n",
        "lamp1",
        "lamp1 equ 3\n#define LAMP PORTB,lamp1\n bsf LAMP\n movlw lamp1\n end\n"
    )]
    public async Task Name_is_renamed_everywhere_that_it_means_the_same(string source, string newName, string expected)
    {
        await using Desk desk = await Desk.StartAsync("{}");
        JsonNode? edit = await desk.AskAsync(
            "textDocument/rename",
            Head + source,
            more: new JsonObject { ["newName"] = newName }
        );
        JsonNode edits = edit!["changes"]!.AsObject().Single().Value!;
        Assert.Equal(Head + expected, ActionTests.Apply(Desk.Unmark(Head + source).Text, edits));
    }

    [Fact]
    public async Task Name_is_renamed_across_files_with_their_versions()
    {
        await using Desk desk = await Desk.StartAsync();
        desk.Write("delay.inc", "wait nop\n return\n");
        JsonNode? edit = await desk.AskAsync(
            "textDocument/rename",
            Head + " call {|}wait\n include \"delay.inc\"\n end\n",
            more: new JsonObject { ["newName"] = "pause" }
        );
        JsonArray changes = edit!["documentChanges"]!.AsArray();
        Assert.Equal(
            ["delay.inc null", "main.asm 1"],
            changes
                .Select(change =>
                    $"{((string)change!["textDocument"]!["uri"]!).Split('/')[^1]} {change["textDocument"]!["version"]?.ToJsonString() ?? "null"}"
                )
                .Order()
        );
    }

    [Theory]
    [InlineData(" movf PO{|}RTB,w\n end\n", "x", "name of the chip")]
    [InlineData(" mov{|}lw 5\n end\n", "x", "no name here")]
    [InlineData("{|}start nop\nother nop\n end\n", "other", "defined already")]
    [InlineData("n1 equ 1\n{|}n2 equ 2\nk set 2\n movlw n#v(k)\n end\n", "zz", "nothing was renamed")]
    public async Task Rename_that_would_change_something_is_refused_with_the_reason(
        string source,
        string newName,
        string reason
    )
    {
        await using Desk desk = await Desk.StartAsync();
        (int line, int character) = desk.Open("main.asm", Head + source);
        JsonObject parameters = ProbeFeatures.At(desk.UriOf("main.asm"), line, character);
        parameters["newName"] = newName;
        JsonObject reply = await desk.Session.Client.Ask("textDocument/rename", parameters).Reply;
        Assert.Equal(-32803, (int)reply["error"]!["code"]!);
        Assert.Contains(reason, (string)reply["error"]!["message"]!, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Prepared_rename_reports_the_stretch_and_refuses_names_of_the_chip()
    {
        await using Desk desk = await Desk.StartAsync();
        JsonNode? prepared = await desk.AskAsync(
            "textDocument/prepareRename",
            Head + "start nop\n goto st{|}art\n movwf PORTB\n end\n"
        );
        Assert.Equal("start", (string)prepared!["placeholder"]!);
        Assert.Equal(6, (int)prepared["range"]!["start"]!["character"]!);
        Assert.Equal(
            -32803,
            await desk.Session.Client.ErrorOfAsync(
                "textDocument/prepareRename",
                ProbeFeatures.At(desk.UriOf("main.asm"), 4, 8)
            )
        );
    }

    [Fact]
    public async Task Names_of_a_macro_are_edited_together()
    {
        await using Desk desk = await Desk.StartAsync();
        JsonNode? linked = await desk.AskAsync(
            "textDocument/linkedEditingRange",
            Head + "m macro\n local l\nl goto {|}l\n endm\n m\n end\n"
        );
        Assert.Equal(
            ["3:7", "4:0", "4:7"],
            linked!["ranges"]!.AsArray().Select(range => $"{range!["start"]!["line"]}:{range["start"]!["character"]}")
        );
        Assert.Null(await desk.AskAsync("textDocument/linkedEditingRange", Head + "sta{|}rt nop\n end\n", "other.asm"));
    }

    [Theory]
    [InlineData("delay.inc", "wait.inc", " include \"wait.inc\"\n")]
    [InlineData("delay.inc", "lib/delay.inc", " include \"lib/delay.inc\"\n")]
    public async Task Includes_follow_a_file_that_is_renamed(string old, string now, string line)
    {
        await using Desk desk = await Desk.StartAsync(
            """{"workspace":{"fileOperations":{"willRename":true}}}""",
            inWorkspace: true
        );
        const string Source = " include \"delay.inc\"\n end\n";
        desk.Write(old, " nop\n");
        desk.Write("main.asm", Source);
        JsonNode? edit = await desk.Session.Client.RequestAsync("workspace/willRenameFiles", Renames(desk, old, now));
        KeyValuePair<string, JsonNode?> change = edit!["changes"]!.AsObject().Single();
        Assert.Equal(desk.UriOf("main.asm"), change.Key);
        Assert.Equal(line + " end\n", ActionTests.Apply(Source, change.Value!));
    }

    [Fact]
    public async Task Program_that_moves_keeps_its_includes()
    {
        await using Desk desk = await Desk.StartAsync(
            """{"workspace":{"fileOperations":{"willRename":true}}}""",
            inWorkspace: true
        );
        desk.Write("delay.inc", " nop\n");
        desk.Write("main.asm", "#include <delay.inc>\n end\n");
        JsonNode? edit = await desk.Session.Client.RequestAsync(
            "workspace/willRenameFiles",
            Renames(desk, "main.asm", "src/main.asm")
        );
        Assert.Equal("../delay.inc", (string)edit!["changes"]![desk.UriOf("main.asm")]![0]!["newText"]!);
        Assert.Null(
            await desk.Session.Client.RequestAsync("workspace/willRenameFiles", Renames(desk, "other.asm", "more.asm"))
        );
    }

    private static JsonObject Renames(Desk desk, string old, string now) =>
        new()
        {
            ["files"] = new JsonArray(new JsonObject { ["oldUri"] = desk.UriOf(old), ["newUri"] = desk.UriOf(now) }),
        };
}
