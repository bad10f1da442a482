using System.Text.Json.Nodes;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Hex;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Text;
using AsmLsp.LanguageServer.Tests.Harness;

namespace AsmLsp.LanguageServer.Tests.Features;

public sealed class ActionTests
{
    private const string Faulty = " list p=16f84a\n __config 0x3ff1\nmovwf 0c\nmovwf 0d\n goto 0\n end\n";

    [Fact]
    public async Task Certain_repair_comes_first_is_preferred_and_carries_its_edit()
    {
        await using Desk desk = await Desk.StartAsync();
        JsonArray actions = await ActionsAsync(desk, Faulty, 2);
        JsonNode first = actions[0]!;
        Assert.Equal("quickfix", (string)first["kind"]!);
        Assert.True((bool)first["isPreferred"]!);
        Assert.Equal("operation-not-indented", (string)first["diagnostics"]![0]!["code"]!);
        JsonNode change = Assert.Single(first["edit"]!["documentChanges"]!.AsArray())!;
        Assert.Equal(1, (int)change["textDocument"]!["version"]!);
        Assert.Equal(
            Faulty.Replace("\nmovwf 0c", "\n        movwf 0c", StringComparison.Ordinal),
            Apply(Faulty, change["edits"]!)
        );
        Assert.Single(actions, action => action!["isPreferred"] is not null);
    }

    [Fact]
    public async Task All_of_a_kind_are_repaired_by_one_action()
    {
        await using Desk desk = await Desk.StartAsync();
        JsonArray actions = await ActionsAsync(desk, Faulty, 2);
        JsonNode all = actions.Single(action =>
            ((string)action!["title"]!).StartsWith("Fix all 2 places", StringComparison.Ordinal)
        )!;
        Assert.Equal(
            Faulty.Replace("\nmovwf", "\n        movwf", StringComparison.Ordinal),
            Apply(Faulty, all["edit"]!["documentChanges"]![0]!["edits"]!)
        );
    }

    [Fact]
    public async Task Fix_all_of_the_file_is_a_source_action()
    {
        await using Desk desk = await Desk.StartAsync();
        JsonArray actions = await ActionsAsync(desk, Faulty, 0, "source.fixAll");
        JsonNode all = Assert.Single(actions)!;
        Assert.Equal("source.fixAll.relist", (string)all["kind"]!);
        Assert.Contains(
            "\n        movwf 0d",
            Apply(Faulty, all["edit"]!["documentChanges"]![0]!["edits"]!),
            StringComparison.Ordinal
        );
    }

    // crossing.hex was worked out by hand (docs/demo/crossing-words.md), not taken from what is tested here.
    [Theory]
    [InlineData("")]
    [InlineData("    ")]
    public async Task One_fix_all_brings_back_the_demo_whose_columns_are_lost(string indent)
    {
        string[] lines = (await File.ReadAllTextAsync(Demo("crossing.asm"))).Split('\n');
        string damaged = string.Join(
            '\n',
            lines.Select(line =>
                line.Length == 0 ? line
                : indent.Length > 0 ? indent + line
                : line.TrimStart()
            )
        );
        await using Desk desk = await Desk.StartAsync();
        JsonNode all = Assert.Single(await ActionsAsync(desk, damaged, 0, "source.fixAll"))!;
        string whole = Apply(damaged, all["edit"]!["documentChanges"]![0]!["edits"]!);
        ProgramAnalysis program = Assembler.Assemble(new SourceFile("crossing.asm", SourceText.From(whole)));
        Assert.DoesNotContain(program.Problems, p => p.Severity != Severity.Information);
        Assert.Equal(await File.ReadAllTextAsync(Demo("crossing.hex")), IntelHexWriter.Write(program.Image.Memory));
    }

    private static string Demo(string name)
    {
        string at = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(at, "AsmLsp.sln")))
            at = Path.GetDirectoryName(at) ?? throw new InvalidOperationException("no AsmLsp.sln above the test");
        return Path.Combine(at, "docs", "demo", name);
    }

    [Fact]
    public async Task Nothing_is_offered_where_nothing_is_wrong()
    {
        await using Desk desk = await Desk.StartAsync();
        Assert.Empty(await ActionsAsync(desk, Faulty, 4, "quickfix"));
        Assert.Empty(await ActionsAsync(desk, "; words only\n nop\n end\n", 0));
    }

    [Fact]
    public async Task Client_that_names_one_problem_but_asks_for_the_whole_file_gets_one_repair()
    {
        // As Kate 22.12 asks; it makes every repair that it is given.
        await using Desk desk = await Desk.StartAsync(
            """{"textDocument":{"codeAction":{"codeActionLiteralSupport":{"codeActionKind":{"valueSet":["quickfix","refactor","source"]}}}}}"""
        );
        desk.Open("main.asm", Faulty);
        JsonNode? actions = await desk.OfAsync(
            "textDocument/codeAction",
            "main.asm",
            JsonNode
                .Parse(
                    """
                    {
                      "range": { "start": { "line": 0, "character": 0 }, "end": { "line": 6, "character": 0 } },
                      "context": { "diagnostics": [{ "range": { "start": { "line": 3, "character": 0 }, "end": { "line": 3, "character": 5 } }, "message": "", "code": "operation-not-indented" }] }
                    }
                    """
                )!
                .AsObject()
        );
        JsonNode only = Assert.Single(actions!.AsArray())!;
        Assert.Equal(
            Faulty.Replace("\nmovwf 0d", "\n        movwf 0d", StringComparison.Ordinal),
            Apply(Faulty, only["edit"]!["changes"]!.AsObject().Single().Value!)
        );
    }

    [Fact]
    public async Task Client_without_literals_gets_commands_that_edit_through_the_client()
    {
        JsonNode? applied = null;
        await using Desk desk = await Desk.StartAsync(
            """{"workspace":{"applyEdit":true}}""",
            answer: (method, parameters) =>
            {
                applied = method == "workspace/applyEdit" ? parameters!.DeepClone() : applied;
                return method == "workspace/applyEdit" ? new JsonObject { ["applied"] = true } : null;
            }
        );
        JsonNode command = (await ActionsAsync(desk, Faulty, 2))[0]!;
        Assert.Equal("relist.applyFix", (string)command["command"]!);
        await desk.Session.Client.RequestAsync(
            "workspace/executeCommand",
            new JsonObject
            {
                ["command"] = (string)command["command"]!,
                ["arguments"] = command["arguments"]!.DeepClone(),
            }
        );
        JsonNode edits = applied!["edit"]!["changes"]!.AsObject().Single().Value!;
        Assert.Contains("\n        movwf 0c", Apply(Faulty, edits), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Client_that_can_neither_show_literals_nor_apply_edits_gets_nothing()
    {
        await using Desk desk = await Desk.StartAsync("{}");
        Assert.Empty(await ActionsAsync(desk, Faulty, 2));
    }

    private const string Doubtful =
        " list p=16f84a\n __config 0x3ff1\n movlw 0x30 ; sixty ;? unclear print [ movlw 0x3C] (page 3, line 12)\n end\n";

    [Fact]
    public async Task Doubt_is_accepted_resolved_by_its_alternative_or_shown_where_it_was_printed()
    {
        await using Desk desk = await Desk.StartAsync();
        JsonNode[] actions = [.. (await ActionsAsync(desk, Doubtful, 2)).Select(a => a!)];
        Assert.Equal(
            ["Accept it unchanged", "Write 'movlw 0x3C' instead", "Show where it was printed: page 3, line 12"],
            actions.Where(a => (string)a["kind"]! == "quickfix").Select(a => (string)a["title"]!)
        );
        Assert.Contains("\n movlw 0x30 ; sixty\n", Applied(actions[0]), StringComparison.Ordinal);
        Assert.Contains("\n movlw 0x3C ; sixty\n", Applied(actions[1]), StringComparison.Ordinal);
        Assert.Null(actions[2]["edit"]);
        Assert.Equal("relist.showPrinted", (string)actions[2]["command"]!["command"]!);

        static string Applied(JsonNode action) => Apply(Doubtful, action["edit"]!["documentChanges"]![0]!["edits"]!);
    }

    [Theory]
    [InlineData("main.html", "<!DOCTYPE html>\n<meta name=\"generator\" content=\"relist 0.1.0\"/>", "#page-3-line-12")]
    [InlineData("main.html", "<!DOCTYPE html><p>Something else", null)]
    [InlineData("main.pdf", "%PDF-1.4", "#page=3")]
    [InlineData("document.pdf", "%PDF-1.4", "#page=3")]
    [InlineData("other.pdf", "%PDF-1.4", null)]
    public async Task Printed_place_is_shown_in_the_page_of_review_or_the_document_beside_the_source(
        string beside,
        string content,
        string? fragment
    )
    {
        string? shown = null;
        await using Desk desk = await Desk.StartAsync(
            answer: (method, parameters) =>
            {
                shown = method == "window/showDocument" ? (string)parameters!["uri"]! : shown;
                return method == "window/showDocument" ? new JsonObject { ["success"] = true } : null;
            }
        );
        desk.Write(beside, content);
        // In an archive the document has a name of its own.
        if (beside == "document.pdf")
            desk.Write("SHA256SUMS", "");
        desk.Open("main.asm", Doubtful);
        JsonNode? place = await desk.Session.Client.RequestAsync(
            "workspace/executeCommand",
            new JsonObject
            {
                ["command"] = "relist.showPrinted",
                ["arguments"] = new JsonArray(desk.UriOf("main.asm"), 2),
            }
        );
        Assert.Equal("page 3, line 12", (string)place!);
        Assert.Equal(fragment is null ? null : desk.UriOf(beside) + fragment, shown);
        if (fragment is null)
            await desk.Session.Client.WaitForAsync(
                "window/showMessage",
                reported =>
                    ((string)reported["message"]!).Contains("printed on page 3, line 12", StringComparison.Ordinal)
            );
    }

    [Fact]
    public async Task Edits_are_fetched_later_where_the_client_can()
    {
        await using Desk desk = await Desk.StartAsync(
            """
            {"textDocument":{"codeAction":{"codeActionLiteralSupport":{"codeActionKind":{"valueSet":["quickfix"]}},"dataSupport":true,"resolveSupport":{"properties":["edit"]}}}}
            """
        );
        JsonNode action = (await ActionsAsync(desk, Faulty, 2))[0]!;
        Assert.Null(action["edit"]);
        JsonNode resolved = (await desk.Session.Client.RequestAsync("codeAction/resolve", action))!;
        Assert.Contains(
            "\n        movwf 0c",
            Apply(Faulty, resolved["edit"]!["changes"]!.AsObject().Single().Value!),
            StringComparison.Ordinal
        );
        desk.Session.Change(desk.UriOf("main.asm"), 2, Session.Whole(" nop\n end\n"));
        Assert.Equal(-32801, await desk.Session.Client.ErrorOfAsync("codeAction/resolve", action));
    }

    [Theory]
    [InlineData("textDocument/formatting", "")]
    [InlineData(
        "textDocument/rangeFormatting",
        "\"range\":{\"start\":{\"line\":2,\"character\":0},\"end\":{\"line\":4,\"character\":0}},"
    )]
    public async Task Formatting_changes_blanks_and_nothing_else(string method, string more)
    {
        const string Source =
            " list p=16f84a\n __config 0x3ff1\nstart   movlw   5\n   movwf PORTB\n goto   start\n end\n";
        await using Desk desk = await Desk.StartAsync();
        desk.Open("main.asm", Source);
        JsonNode? edits = await desk.OfAsync(
            method,
            "main.asm",
            JsonNode.Parse($$"""{ {{more}} "options": { "tabSize": 4, "insertSpaces": true } }""")!.AsObject()
        );
        string after = Apply(Source, edits!);
        Assert.NotEqual(Source, after);
        Assert.Equal(Words(Source), Words(after));
        Assert.Equal(more.Length > 0, after.Contains("\n goto   start", StringComparison.Ordinal));
        desk.Session.Change(desk.UriOf("main.asm"), 2, Session.Whole(after));
        Assert.Empty(
            (
                await desk.OfAsync(
                    method,
                    "main.asm",
                    JsonNode.Parse($$"""{ {{more}} "options": { "tabSize": 4, "insertSpaces": true } }""")!.AsObject()
                )
            )!.AsArray()
        );
    }

    [Fact]
    public async Task Line_break_formats_the_line_before_it_only()
    {
        const string Source = " list p=16f84a\n   movlw    5\nstart   movlw   5\n\n end\n";
        await using Desk desk = await Desk.StartAsync();
        desk.Open("main.asm", Source);
        JsonNode? edits = await desk.AtAsync(
            "textDocument/onTypeFormatting",
            "main.asm",
            3,
            0,
            JsonNode.Parse("""{"ch":"\n","options":{"tabSize":8,"insertSpaces":true}}""")!.AsObject()
        );
        Assert.All(edits!.AsArray(), edit => Assert.Equal(2, (int)edit!["range"]!["start"]!["line"]!));
    }

    [Fact]
    public async Task Saving_tidies_only_where_the_setting_asks_for_it()
    {
        var save = new JsonObject { ["reason"] = 1 };
        await using Desk plain = await Desk.StartAsync();
        plain.Open("main.asm", Faulty);
        Assert.Empty((await plain.OfAsync("textDocument/willSaveWaitUntil", "main.asm", save))!.AsArray());
        await using Desk desk = await Desk.StartAsync(settings: JsonNode.Parse("""{"tidyOnSave":true}"""));
        desk.Open("main.asm", Faulty);
        string after = Apply(Faulty, (await desk.OfAsync("textDocument/willSaveWaitUntil", "main.asm", save))!);
        Assert.DoesNotContain("\nmovwf", after, StringComparison.Ordinal);
        Assert.Equal(Words(Faulty), Words(after));
        Assert.Empty(
            (
                await desk.OfAsync("textDocument/willSaveWaitUntil", "main.asm", new JsonObject { ["reason"] = 2 })
            )!.AsArray()
        );
    }

    [Fact]
    public async Task The_project_file_may_ask_for_tidying_on_save()
    {
        var save = new JsonObject { ["reason"] = 1 };
        await using Desk desk = await Desk.StartAsync();
        desk.Write("relist.json", """{"tidyOnSave":true}""");
        desk.Open("main.asm", Faulty);
        Assert.NotEmpty((await desk.OfAsync("textDocument/willSaveWaitUntil", "main.asm", save))!.AsArray());
    }

    private static async Task<JsonArray> ActionsAsync(Desk desk, string source, int line, string? only = null)
    {
        desk.Open("main.asm", source);
        var context = new JsonObject { ["diagnostics"] = new JsonArray() };
        if (only is not null)
        {
            context["only"] = new JsonArray(only);
        }

        JsonNode? actions = await desk.OfAsync(
            "textDocument/codeAction",
            "main.asm",
            new JsonObject
            {
                ["range"] = new JsonObject { ["start"] = At(line, 0), ["end"] = At(line, 0) },
                ["context"] = context,
            }
        );
        return actions!.AsArray();
    }

    private static JsonObject At(int line, int character) => new() { ["line"] = line, ["character"] = character };

    /// <summary>Carries edits out on lines of plain ASCII.</summary>
    internal static string Apply(string text, JsonNode edits)
    {
        string[] lines = text.Split('\n');
        foreach (
            JsonNode? edit in edits.AsArray().OrderByDescending(edit => Offset(edit!["range"]!["start"]!)).ToList()
        )
        {
            int start = Offset(edit!["range"]!["start"]!),
                end = Offset(edit["range"]!["end"]!);
            text = text[..start] + (string)edit["newText"]! + text[end..];
        }

        return text;

        int Offset(JsonNode place) =>
            lines.Take((int)place["line"]!).Sum(line => line.Length + 1) + (int)place["character"]!;
    }

    private static string Words(string text) =>
        string.Join(' ', text.Split([' ', '\n', '\t'], StringSplitOptions.RemoveEmptyEntries));
}
