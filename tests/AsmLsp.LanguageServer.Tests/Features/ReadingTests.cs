using System.Text.Json.Nodes;
using AsmLsp.LanguageServer.Features;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Tests.Harness;

namespace AsmLsp.LanguageServer.Tests.Features;

/// <summary>What helps to read a source: signatures, folds, selections, links, colors, hints, lenses, calls.</summary>
public sealed class ReadingTests
{
    private const string Head = " list p=16f84a\n __config 0x3ff1\n";

    private const string Calls =
        Head
        + " org 0\nmain call wait\n call wait\n goto main\nwait movlw 5\nwait1 addlw 0xff\n btfss STATUS,Z\n goto wait1\n return\n end\n";

    [Theory]
    [InlineData(" bsf {|}\n", "bsf f,b", 0)]
    [InlineData(" bsf PORTB,{|}\n", "bsf f,b", 1)]
    public async Task Operands_of_the_operation_are_shown(string source, string label, int active)
    {
        await using Desk desk = await Desk.StartAsync();
        JsonNode? help = await desk.AskAsync("textDocument/signatureHelp", Head + source + " end\n");
        Assert.Equal(label, (string)help!["signatures"]![0]!["label"]!);
        Assert.Equal(active, (int)help["activeParameter"]!);
        JsonArray parts = help["signatures"]![0]!["parameters"]!.AsArray();
        Assert.Equal(
            label[(label.IndexOf(' ', StringComparison.Ordinal) + 1)..].Split(','),
            parts.Select(part => label[(int)part!["label"]![0]!..(int)part["label"]![1]!])
        );
    }

    [Theory]
    [InlineData(" nop {|}\n")]
    public async Task No_operands_are_shown_where_there_are_none(string source)
    {
        await using Desk desk = await Desk.StartAsync();
        Assert.Null(await desk.AskAsync("textDocument/signatureHelp", Head + source + " end\n"));
    }

    [Fact]
    public async Task Blocks_choices_comments_and_routines_fold()
    {
        await using Desk desk = await Desk.StartAsync();
        desk.Open(
            "main.asm",
            "; one\n; two\n list p=16f84a\n cblock 0x0c\n a\n b\n endc\nm macro\n nop\n endm\n if 1\n nop\n else\n nop\n endif\nstart nop\n goto start\n\n; about wait\nwait nop\n return\n call wait\n end\n"
        );
        JsonNode? folds = await desk.OfAsync("textDocument/foldingRange", "main.asm");
        Assert.Equal(
            "0-1comment 3-6 7-9 10-11 12-14 15-16 19-21",
            string.Join(' ', folds!.AsArray().Select(fold => $"{fold!["startLine"]}-{fold["endLine"]}{fold["kind"]}"))
        );
    }

    [Fact]
    public async Task Selection_grows_from_the_word_to_the_file()
    {
        await using Desk desk = await Desk.StartAsync();
        desk.Open("main.asm", Head + " org 0\nstart nop\n btfsc PORTB,high 5 ; c\n goto start\n end\n");
        JsonNode? selection = await desk.OfAsync(
            "textDocument/selectionRange",
            "main.asm",
            JsonNode.Parse("""{"positions":[{"line":4,"character":18}]}""")!.AsObject()
        );
        var steps = new List<string>();
        for (JsonNode? at = selection![0]; at is not null; at = at["parent"])
        {
            JsonNode range = at["range"]!;
            steps.Add(
                $"{range["start"]!["line"]}:{range["start"]!["character"]}-{range["end"]!["line"]}:{range["end"]!["character"]}"
            );
        }

        Assert.Equal(
            ["4:18-4:19", "4:13-4:19", "4:7-4:19", "4:1-4:19", "4:0-4:23", "3:0-5:11", "2:0-5:11", "0:0-7:0"],
            steps
        );
    }

    [Fact]
    public async Task Include_is_a_link_to_its_file()
    {
        await using Desk desk = await Desk.StartAsync();
        desk.Write("delay.inc", " nop\n");
        desk.Open("main.asm", "#include <p16f84a.inc>\n include \"DELAY.INC\"\n end\n");
        JsonNode link = Assert.Single((await desk.OfAsync("textDocument/documentLink", "main.asm"))!.AsArray())!;
        Assert.Equal(desk.UriOf("delay.inc"), (string)link["target"]!);
        Assert.Equal(1, (int)link["range"]!["start"]!["line"]!);
    }

    [Fact]
    public async Task Names_of_closed_files_of_the_workspace_are_found()
    {
        await using Desk desk = await Desk.StartAsync(inWorkspace: true);
        desk.Write("lib/delay.inc", "waitms nop\n return\n");
        desk.Write("other.asm", " list p=16f84a\nwarm nop\n end\n");
        desk.Open("main.asm", Head + "wait nop\n include \"lib/delay.inc\"\n end\n");
        JsonNode? found = await desk.Session.Client.RequestAsync(
            "workspace/symbol",
            new JsonObject { ["query"] = "wa" }
        );
        Assert.Equal(
            ["wait main.asm", "waitms delay.inc", "warm other.asm"],
            found!
                .AsArray()
                .Select(symbol => $"{symbol!["name"]} {((string)symbol["location"]!["uri"]!).Split('/')[^1]}")
                .Order()
        );
        found = await desk.Session.Client.RequestAsync("workspace/symbol", new JsonObject { ["query"] = "wtms" });
        Assert.Equal("waitms", (string)Assert.Single(found!.AsArray())!["name"]!);
    }

    [Fact]
    public async Task Each_token_has_its_color()
    {
        await using Desk desk = await Desk.StartAsync();
        const string Source =
            " list p=16f84a\nled equ 2 ; lamp\nm macro x\n movlw x\n endm\nstart bsf PORTB,led\n m 5\n movf STATUS,w\n if 0\n goto start\n endif\n end\n";
        desk.Open("main.asm", Source);
        JsonNode? tokens = await desk.OfAsync("textDocument/semanticTokens/full", "main.asm");
        Assert.Equal(
            "list:modifier =:operator 16f84a:number|led:variable!r equ:modifier 2:number ; lamp:comment|m:macro! macro:modifier x:parameter|movlw:keyword x:parameter|endm:modifier|"
                + "start:function! bsf:keyword PORTB:variable* led:variabler|m:macro 5:number|movf:keyword STATUS:variable* w:keyword|if:modifier 0:number|goto:comment start:comment|endif:modifier|end:modifier",
            Show(Source, tokens!["data"]!.AsArray(), desk.Offer)
        );
        JsonNode? range = await desk.OfAsync(
            "textDocument/semanticTokens/range",
            "main.asm",
            JsonNode
                .Parse("""{"range":{"start":{"line":6,"character":0},"end":{"line":6,"character":9}}}""")!
                .AsObject()
        );
        Assert.Equal("m:macro 5:number", Show(Source, range!["data"]!.AsArray(), desk.Offer));
    }

    [Fact]
    public async Task Difference_of_colors_leads_to_the_new_ones()
    {
        await using Desk desk = await Desk.StartAsync();
        desk.Open("main.asm", Calls);
        JsonNode first = (await desk.OfAsync("textDocument/semanticTokens/full", "main.asm"))!;
        desk.Session.Change(desk.UriOf("main.asm"), 2, Session.Edit(3, 0, 3, 0, "; new\n"));
        JsonNode delta = (
            await desk.OfAsync(
                "textDocument/semanticTokens/full/delta",
                "main.asm",
                new JsonObject { ["previousResultId"] = (string)first["resultId"]! }
            )
        )!;
        JsonNode now = (await desk.OfAsync("textDocument/semanticTokens/full", "main.asm"))!;
        List<int> data = [.. first["data"]!.AsArray().Select(number => (int)number!)];
        foreach (JsonNode? edit in delta["edits"]!.AsArray())
        {
            data.RemoveRange((int)edit!["start"]!, (int)edit["deleteCount"]!);
            data.InsertRange((int)edit["start"]!, edit["data"]!.AsArray().Select(number => (int)number!));
        }

        Assert.Equal(now["data"]!.AsArray().Select(number => (int)number!), data);
        Assert.True(delta["edits"]!.AsArray().Sum(edit => edit!["data"]!.AsArray().Count) < data.Count);
        JsonNode whole = (
            await desk.OfAsync(
                "textDocument/semanticTokens/full/delta",
                "main.asm",
                new JsonObject { ["previousResultId"] = "unknown" }
            )
        )!;
        Assert.NotNull(whole["data"]);
    }

    [Theory]
    [InlineData(new[] { 1, 2, 3 }, new[] { 1, 2, 3 }, "")]
    [InlineData(new[] { 1, 2, 3 }, new[] { 1, 9, 3 }, "1-1+9")]
    [InlineData(new[] { 1, 1 }, new[] { 1, 1, 1 }, "2-0+1")]
    [InlineData(new int[0], new[] { 5 }, "0-0+5")]
    [InlineData(new[] { 5 }, new int[0], "0-1+")]
    public void Difference_is_one_edit(int[] before, int[] now, string expected) =>
        Assert.Equal(
            expected,
            string.Concat(
                SemanticTokensHandler
                    .Difference(before, now)
                    .Select(edit => $"{edit.Start}-{edit.DeleteCount}+{string.Join(',', edit.Data!)}")
            )
        );

    [Fact]
    public async Task Hints_show_address_word_and_values_where_they_are_asked_for()
    {
        await using Desk desk = await Desk.StartAsync(
            settings: JsonNode.Parse("""{"inlayHints":{"words":true,"values":true}}""")
        );
        // MOVLW 0x10 is 0x3010, ADDLW 0x05 is 0x3E05, GOTO 0 is 0x2800 (data sheet DS35007B, table 7-2).
        desk.Open("main.asm", Head + "n equ 5\nstart movlw 10\n addlw n ; c\n goto start\n dt \"ab\"\n end\n");
        Assert.Equal(
            [
                "1:16 2007 3FF1",
                "3:14 = 16",
                "3:14 0000 3010",
                "4:8 = 0x05",
                "4:12 0001 3E05",
                "5:11 0002 2800",
                "6:8 0003 3461 +1",
            ],
            await HintsAsync(desk)
        );
    }

    [Fact]
    public async Task No_hint_is_shown_until_a_person_asks_for_them()
    {
        await using Desk desk = await Desk.StartAsync();
        desk.Open("main.asm", Head + "n equ 5\nstart movlw n\n goto start\n end\n");
        Assert.Empty(await HintsAsync(desk));
    }

    [Fact]
    public async Task Hints_are_switched_by_settings()
    {
        await using Desk desk = await Desk.StartAsync(
            settings: JsonNode.Parse("""{"inlayHints":{"words":false,"values":false,"cycles":true}}""")
        );
        desk.Open("main.asm", Head + "n equ 5\nstart movlw n\n btfsc PORTB,0\n goto start\n end\n");
        Assert.Equal(["3:13 1 cycle", "4:14 1 or 2 cycles", "5:11 2 cycles"], await HintsAsync(desk));
    }

    [Fact]
    public async Task Lenses_show_uses_words_and_cycles()
    {
        await using Desk desk = await Desk.StartAsync();
        desk.Open("main.asm", Calls);
        JsonNode? lenses = await desk.OfAsync("textDocument/codeLens", "main.asm");
        string[] wait =
        [
            .. lenses!
                .AsArray()
                .Where(lens => (int)lens!["range"]!["start"]!["line"]! == 6)
                .Select(lens => (string)lens!["command"]!["title"]!),
        ];
        Assert.Equal("called by main", wait[0]);
        // Counted by hand from table 7-2: MOVLW 1; five turns of ADDLW 1, BTFSS 1 (2 when it skips), GOTO 2: 4 * 4 + 3; RETURN 2.
        Assert.Equal("5 words, 22 cycles", wait[1]);
        JsonNode command = lenses.AsArray().First(lens => (int)lens!["range"]!["start"]!["line"]! == 6)!["command"]!;
        JsonNode? places = await desk.Session.Client.RequestAsync(
            "workspace/executeCommand",
            new JsonObject
            {
                ["command"] = (string)command["command"]!,
                ["arguments"] = command["arguments"]!.DeepClone(),
            }
        );
        Assert.Equal(["main.asm:4:11", "main.asm:5:7"], Desk.Places(places));
        Assert.Equal(
            "wait is used at main.asm:4, main.asm:5.",
            (string)(await desk.Session.Client.WaitForAsync("window/showMessage"))["params"]!["message"]!
        );
    }

    [Fact]
    public async Task Lenses_are_switched_by_settings()
    {
        await using Desk desk = await Desk.StartAsync(
            settings: JsonNode.Parse("""{"codeLens":{"callers":false,"size":false}}""")
        );
        desk.Open("main.asm", Calls);
        Assert.Empty((await desk.OfAsync("textDocument/codeLens", "main.asm"))!.AsArray());
    }

    [Fact]
    public async Task Calls_lead_both_ways()
    {
        await using Desk desk = await Desk.StartAsync();
        desk.Open("main.asm", Calls);
        JsonNode item = Assert.Single(
            (await desk.AtAsync("textDocument/prepareCallHierarchy", "main.asm", 3, 12))!.AsArray()
        )!;
        Assert.Equal("wait", (string)item["name"]!);
        JsonNode incoming = Assert.Single(
            (
                await desk.Session.Client.RequestAsync(
                    "callHierarchy/incomingCalls",
                    new JsonObject { ["item"] = item.DeepClone() }
                )
            )!.AsArray()
        )!;
        Assert.Equal("main", (string)incoming["from"]!["name"]!);
        Assert.Equal(2, incoming["fromRanges"]!.AsArray().Count);
        JsonNode outgoing = Assert.Single(
            (
                await desk.Session.Client.RequestAsync(
                    "callHierarchy/outgoingCalls",
                    new JsonObject { ["item"] = incoming["from"]!.DeepClone() }
                )
            )!.AsArray()
        )!;
        Assert.Equal("wait", (string)outgoing["to"]!["name"]!);
        Assert.Empty(
            (
                await desk.Session.Client.RequestAsync(
                    "callHierarchy/outgoingCalls",
                    new JsonObject { ["item"] = item.DeepClone() }
                )
            )!.AsArray()
        );
    }

    private static async Task<string[]> HintsAsync(Desk desk)
    {
        JsonNode? hints = await desk.OfAsync(
            "textDocument/inlayHint",
            "main.asm",
            JsonNode
                .Parse("""{"range":{"start":{"line":0,"character":0},"end":{"line":99,"character":0}}}""")!
                .AsObject()
        );
        return
        [
            .. hints!
                .AsArray()
                .Select(hint => $"{hint!["position"]!["line"]}:{hint["position"]!["character"]} {hint["label"]}"),
        ];
    }

    private static string Show(string source, JsonArray data, JsonNode offer)
    {
        string[] types =
        [
            .. offer["capabilities"]!["semanticTokensProvider"]!["legend"]!["tokenTypes"]!
                .AsArray()
                .Select(type => (string)type!),
        ];
        string[] lines = source.Split('\n');
        var shown = new System.Text.StringBuilder();
        int line = 0,
            start = 0;
        for (int i = 0; i < data.Count; i += 5)
        {
            int down = (int)data[i]!;
            (line, start) = (line + down, down > 0 ? (int)data[i + 1]! : start + (int)data[i + 1]!);
            int modifiers = (int)data[i + 4]!;
            string marks =
                ((modifiers & 1) != 0 ? "!" : "")
                + ((modifiers & 2) != 0 ? "r" : "")
                + ((modifiers & 4) != 0 ? "*" : "");
            shown
                .Append(
                    shown.Length == 0 ? ""
                    : down > 0 ? "|"
                    : " "
                )
                .Append(lines[line].AsSpan(start, (int)data[i + 2]!))
                .Append(':')
                .Append(types[(int)data[i + 3]!])
                .Append(marks);
        }

        return shown.ToString();
    }
}
