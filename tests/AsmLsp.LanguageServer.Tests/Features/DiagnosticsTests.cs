using System.Text.Json.Nodes;
using AsmLsp.LanguageServer.Tests.Harness;

namespace AsmLsp.LanguageServer.Tests.Features;

public sealed class DiagnosticsTests
{
    private const string Clean = " list p=16f84a\n __config 0x3ff1\n org 0\nstart nop\n goto start\n end\n";

    [Fact]
    public async Task Problem_is_reported_with_place_severity_code_and_version()
    {
        await using Desk desk = await Desk.StartAsync();
        desk.Open(
            "main.asm",
            Clean
                .Replace("start nop", "movwf 0c", StringComparison.Ordinal)
                .Replace("goto start", "goto 3", StringComparison.Ordinal),
            version: 7
        );
        JsonObject reported = await desk.Session.Client.WaitForAsync("textDocument/publishDiagnostics");
        Assert.Equal(7, (int)reported["params"]!["version"]!);
        JsonNode problem = Assert.Single(reported["params"]!["diagnostics"]!.AsArray())!;
        Assert.Equal("operation-not-indented", (string)problem["code"]!);
        Assert.Equal("relist", (string)problem["source"]!);
        Assert.Equal(2, (int)problem["severity"]!);
        Assert.Equal(
            """{"start":{"line":3,"character":0},"end":{"line":3,"character":5}}""",
            problem["range"]!.ToJsonString()
        );
    }

    private const string Unused =
        " list p=16f84a\n __config 0x3ff1\n org 0\nstart nop\n goto start\nold clrw\n return\nolder equ 0x0C\n end\n";

    [Fact]
    public async Task Lines_and_names_that_nothing_uses_are_faded_one_by_one()
    {
        await using Desk desk = await Desk.StartAsync();
        desk.Open("main.asm", Unused);
        JsonObject reported = await desk.Session.Client.WaitForAsync("textDocument/publishDiagnostics");
        Assert.Equal(
            ["5 unused-code 4 [1]", "5 unused-name 4 [1]", "6 unused-code 4 [1]", "7 unused-name 4 [1]"],
            reported["params"]!["diagnostics"]!
                .AsArray()
                .Select(static p =>
                    $"{p!["range"]!["start"]!["line"]} {p["code"]} {p["severity"]} {p["tags"]!.ToJsonString()}"
                )
                .Order(StringComparer.Ordinal)
        );
    }

    [Fact]
    public async Task A_client_that_fades_nothing_gets_one_note_for_each_kind()
    {
        await using Desk desk = await Desk.StartAsync("{}");
        desk.Open("main.asm", Unused);
        JsonObject reported = await desk.Session.Client.WaitForAsync("textDocument/publishDiagnostics");
        Assert.Equal(
            ["unused-code 3", "unused-name 3"],
            reported["params"]!["diagnostics"]!
                .AsArray()
                .Select(static p => $"{p!["code"]} {p["severity"]}")
                .Order(StringComparer.Ordinal)
        );
    }

    [Fact]
    public async Task Codes_in_the_settings_and_in_comments_are_not_shown()
    {
        await using Desk desk = await Desk.StartAsync(
            settings: JsonNode.Parse("""{ "ignore": ["unused-name", "undefined-name"] }""")
        );
        desk.Open(
            "main.asm",
            Unused.Replace("old clrw", "old clrw ; relist: ignore unused-code", StringComparison.Ordinal)
        );
        Assert.Equal(["7:unused-code"], await desk.ProblemsAsync("main.asm"));
    }

    [Fact]
    public async Task No_problem_is_shown_twice_in_one_place()
    {
        await using Desk desk = await Desk.StartAsync();
        desk.Open(
            "main.asm",
            Clean
                .Replace("start nop", "start clrf TRISB", StringComparison.Ordinal)
                .Replace(" list p=16f84a\n", " list p=16f84a\n include <p16f84a.inc>\n", StringComparison.Ordinal)
        );
        JsonObject reported = await desk.Session.Client.WaitForAsync("textDocument/publishDiagnostics");
        string[] problems =
        [
            .. reported["params"]!["diagnostics"]!
                .AsArray()
                .Select(static p => $"{p!["code"]} {p["range"]!.ToJsonString()}"),
        ];
        Assert.Contains(problems, static p => p.StartsWith("wrong-bank ", StringComparison.Ordinal));
        Assert.Equal(problems.Distinct(), problems);
    }

    [Fact]
    public async Task Problem_goes_away_when_it_is_fixed_and_comes_back()
    {
        await using Desk desk = await Desk.StartAsync();
        desk.Open("main.asm", Clean);
        Assert.Empty(await desk.ProblemsAsync("main.asm"));
        desk.Session.Change(desk.UriOf("main.asm"), 2, Session.Edit(4, 6, 4, 11, "nowhere"));
        Assert.Equal(["5:undefined-name"], await desk.ProblemsAsync("main.asm", 2));
        desk.Session.Change(desk.UriOf("main.asm"), 3, Session.Edit(4, 6, 4, 13, "start"));
        Assert.Empty(await desk.ProblemsAsync("main.asm", 3));
    }

    [Fact]
    public async Task Versions_are_reported_in_rising_order_and_the_last_one_always()
    {
        await using Desk desk = await Desk.StartAsync();
        desk.Open("main.asm", Clean);
        for (int version = 2; version <= 200; version++)
        {
            desk.Session.Change(
                desk.UriOf("main.asm"),
                version,
                Session.Edit(3, 0, 3, 0, version % 2 == 0 ? "x" : ""),
                Session.Edit(3, 0, 3, version % 2 == 0 ? 0 : 1, "")
            );
        }

        await desk.ProblemsAsync("main.asm", 200);
        int[] versions =
        [
            .. desk
                .Session.Client.FromServer.Where(message =>
                    (string?)message["method"] == "textDocument/publishDiagnostics"
                )
                .Select(message => (int)message["params"]!["version"]!),
        ];
        Assert.Equal(versions.Order(), versions);
    }

    [Fact]
    public async Task Closing_a_document_clears_its_problems()
    {
        await using Desk desk = await Desk.StartAsync();
        desk.Open("main.asm", " goto nowhere\n end\n");
        Assert.NotEmpty(await desk.ProblemsAsync("main.asm"));
        desk.Session.Close(desk.UriOf("main.asm"));
        Assert.Empty(await desk.ProblemsAsync("main.asm", null));
    }

    [Fact]
    public async Task Unsaved_include_counts_and_its_problems_are_reported_at_its_own_lines()
    {
        await using Desk desk = await Desk.StartAsync();
        desk.Write("delay.inc", "wait nop\n return\n");
        desk.Open(
            "main.asm",
            " list p=16f84a\n __config 0x3ff1\n call wait\n call later\n include \"delay.inc\"\n end\n"
        );
        Assert.Equal(["4:undefined-name"], await desk.ProblemsAsync("main.asm"));
        desk.Open("delay.inc", "wait nop\nmovwf 0c\n return\nlater return\n");
        Assert.Equal(["2:operation-not-indented"], await desk.ProblemsAsync("delay.inc"));
        await desk.Session.Client.WaitForAsync(
            "textDocument/publishDiagnostics",
            reported =>
                (string?)reported["uri"] == desk.UriOf("main.asm") && reported["diagnostics"]!.AsArray().Count == 0
        );
    }

    [Fact]
    public async Task Problems_of_an_include_that_is_not_open_are_reported_too()
    {
        await using Desk desk = await Desk.StartAsync();
        desk.Write("delay.inc", "wait nop\nmovwf 0c\n return\n");
        desk.Open("main.asm", " list p=16f84a\n __config 0x3ff1\n call wait\n include \"delay.inc\"\n end\n");
        Assert.Equal(["2:operation-not-indented"], await desk.ProblemsAsync("delay.inc", null));
        desk.Session.Close(desk.UriOf("main.asm"));
        await desk.Session.Client.WaitForAsync(
            "textDocument/publishDiagnostics",
            reported =>
                (string?)reported["uri"] == desk.UriOf("delay.inc") && reported["diagnostics"]!.AsArray().Count == 0
        );
    }

    [Fact]
    public async Task Include_that_changes_on_the_disk_counts_when_the_client_reports_it()
    {
        await using Desk desk = await Desk.StartAsync();
        desk.Write("delay.inc", "wait nop\n return\n");
        desk.Open("main.asm", " list p=16f84a\n __config 0x3ff1\n call later\n include \"delay.inc\"\n end\n");
        Assert.Equal(["3:undefined-name"], await desk.ProblemsAsync("main.asm"));
        desk.Write("delay.inc", "wait nop\n return\nlater return\n");
        desk.Session.Client.Notify(
            "workspace/didChangeWatchedFiles",
            new JsonObject
            {
                ["changes"] = new JsonArray(new JsonObject { ["uri"] = desk.UriOf("delay.inc"), ["type"] = 2 }),
            }
        );
        await desk.Session.Client.WaitForAsync(
            "textDocument/publishDiagnostics",
            reported =>
                (string?)reported["uri"] == desk.UriOf("main.asm") && reported["diagnostics"]!.AsArray().Count == 0
        );
    }

    [Fact]
    public async Task Include_is_found_in_the_folders_of_the_settings()
    {
        await using Desk desk = await Desk.StartAsync(
            settings: new JsonObject { ["include"] = new JsonArray("lib") },
            inWorkspace: true
        );
        desk.Write("lib/delay.inc", "wait nop\n return\n");
        desk.Open("src/main.asm", " list p=16f84a\n __config 0x3ff1\n call wait\n include \"delay.inc\"\n end\n");
        Assert.Empty(await desk.ProblemsAsync("src/main.asm"));
    }

    [Fact]
    public async Task Include_is_seen_through_a_root_that_is_found_beside_it()
    {
        await using Desk desk = await Desk.StartAsync();
        desk.Write(
            "main.asm",
            " list p=16f84a\n __config 0x3ff1\nled equ 5\n call wait\n include \"delay.inc\"\n end\n"
        );
        desk.Open("delay.inc", "wait movwf led\n movwf lod\n return\n");
        Assert.Equal(["2:undefined-name"], await desk.ProblemsAsync("delay.inc"));
    }

    [Fact]
    public async Task Include_is_seen_through_the_root_that_the_project_file_names()
    {
        await using Desk desk = await Desk.StartAsync(inWorkspace: true);
        desk.Write("relist.json", """{ "root": "src/top.asm" }""");
        desk.Write(
            "src/top.asm",
            " list p=16f84a\n __config 0x3ff1\nled equ 5\n call wait\n include \"../lib/delay.inc\"\n end\n"
        );
        desk.Open("lib/delay.inc", "wait movwf led\n movwf lod\n return\n");
        Assert.Equal(["2:undefined-name"], await desk.ProblemsAsync("lib/delay.inc"));
    }

    [Fact]
    public async Task Names_of_an_include_that_nobody_includes_are_no_errors()
    {
        await using Desk desk = await Desk.StartAsync();
        desk.Open("delay.inc", "wait movwf led\nmovwf PORTB\n PULSE 5\n movlv 5\n return\n");
        Assert.Equal(["2:operation-not-indented", "4:unknown-operation"], await desk.ProblemsAsync("delay.inc"));
    }

    [Fact]
    public async Task Mistake_in_the_project_file_is_reported_there()
    {
        await using Desk desk = await Desk.StartAsync();
        desk.Write("relist.json", "{\n  \"device\": 84\n}");
        desk.Open("main.asm", Clean);
        Assert.Equal(["2:project-file"], await desk.ProblemsAsync("relist.json", null));
    }

    [Fact]
    public async Task Chip_of_the_settings_counts_where_the_source_names_none()
    {
        await using Desk desk = await Desk.StartAsync(settings: new JsonObject { ["chip"] = "16F84A" });
        desk.Open("main.asm", " __config 0x3ff1\n movwf PORTB\n end\n");
        Assert.DoesNotContain("2:chip-not-named", await desk.ProblemsAsync("main.asm"));
    }

    [Fact]
    public async Task Unsaved_buffer_has_problems_like_a_file()
    {
        await using Desk desk = await Desk.StartAsync();
        desk.Open("untitled:Untitled-1", " goto nowhere\n end\n");
        Assert.Equal(["1:undefined-name"], await desk.ProblemsAsync("untitled:Untitled-1"));
    }

    [Fact]
    public async Task At_most_twenty_thousand_problems_are_reported()
    {
        await using Desk desk = await Desk.StartAsync();
        desk.Open("main.asm", string.Concat(Enumerable.Repeat(" goto nowhere\n", 30_000)) + " end\n");
        Assert.Equal(20_000, (await desk.ProblemsAsync("main.asm")).Length);
    }

    [Fact]
    public async Task Client_that_declares_nothing_gets_no_version_no_data_and_the_second_place_in_words()
    {
        await using Desk desk = await Desk.StartAsync("{}");
        desk.Open("main.asm", " list p=16f84a\n __config 0x3ff1\nhere nop\nhere nop\n end\n");
        JsonObject reported = await desk.Session.Client.WaitForAsync("textDocument/publishDiagnostics");
        Assert.Null(reported["params"]!["version"]);
        JsonNode problem = Assert.Single(reported["params"]!["diagnostics"]!.AsArray())!;
        Assert.Equal(
            ["code", "message", "range", "severity", "source"],
            problem.AsObject().Select(property => property.Key).Order()
        );
        Assert.Contains("(see line 3: the first definition)", (string)problem["message"]!, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Client_that_fetches_problems_is_never_sent_them()
    {
        await using Desk desk = await Desk.StartAsync("""{"textDocument":{"diagnostic":{}}}""");
        Assert.NotNull(desk.Offer["capabilities"]!["diagnosticProvider"]);
        desk.Open("main.asm", " list p=16f84a\n __config 0x3ff1\n goto nowhere\n end\n");
        JsonNode? first = await desk.OfAsync("textDocument/diagnostic", "main.asm");
        Assert.Equal("full", (string)first!["kind"]!);
        Assert.Equal(["3:undefined-name"], Desk.Codes(first["items"]!));
        var again = new JsonObject { ["previousResultId"] = (string)first["resultId"]! };
        JsonNode? second = await desk.OfAsync("textDocument/diagnostic", "main.asm", again);
        Assert.Equal("unchanged", (string)second!["kind"]!);
        desk.Session.Change(desk.UriOf("main.asm"), 2, Session.Edit(0, 0, 0, 0, "\n"));
        JsonNode? third = await desk.OfAsync("textDocument/diagnostic", "main.asm", again);
        Assert.Equal(["4:undefined-name"], Desk.Codes(third!["items"]!));
        Assert.DoesNotContain(
            desk.Session.Client.FromServer,
            message => (string?)message["method"] == "textDocument/publishDiagnostics"
        );
    }

    [Fact]
    public async Task Client_that_is_sent_problems_has_none_to_fetch()
    {
        await using Desk desk = await Desk.StartAsync();
        Assert.Null(desk.Offer["capabilities"]!["diagnosticProvider"]);
    }

    [Fact]
    public async Task Problems_of_the_workspace_are_those_of_included_files_and_can_be_unchanged()
    {
        await using Desk desk = await Desk.StartAsync("""{"textDocument":{"diagnostic":{}}}""");
        desk.Write("delay.inc", "wait nop\nmovwf 0c\n return\n");
        desk.Open("main.asm", " list p=16f84a\n __config 0x3ff1\n call wait\n include \"delay.inc\"\n end\n");
        JsonNode report = (
            await desk.Session.Client.RequestAsync(
                "workspace/diagnostic",
                new JsonObject { ["previousResultIds"] = new JsonArray() }
            )
        )!;
        JsonNode item = Assert.Single(report["items"]!.AsArray())!;
        Assert.Equal(desk.UriOf("delay.inc"), (string)item["uri"]!);
        Assert.Equal(["2:operation-not-indented"], Desk.Codes(item["items"]!));
        report = (
            await desk.Session.Client.RequestAsync(
                "workspace/diagnostic",
                new JsonObject
                {
                    ["previousResultIds"] = new JsonArray(
                        new JsonObject { ["uri"] = (string)item["uri"]!, ["value"] = (string)item["resultId"]! }
                    ),
                }
            )
        )!;
        Assert.Equal("unchanged", (string)Assert.Single(report["items"]!.AsArray())!["kind"]!);
    }

    [Fact]
    public async Task Columns_count_as_the_client_counts()
    {
        await using Desk desk = await Desk.StartAsync("""{"general":{"positionEncodings":["utf-8"]}}""");
        desk.Open("main.asm", " list p=16f84a\n __config 0x3ff1\n dt \"µ𐐀\", nowhere\n end\n");
        JsonObject reported = await desk.Session.Client.WaitForAsync("textDocument/publishDiagnostics");
        JsonNode problem = reported["params"]!["diagnostics"]!
            .AsArray()
            .Single(problem => (string)problem!["code"]! == "undefined-name")!;
        // ' dt "' is 5 bytes, 'µ' two, '𐐀' four, '", ' three.
        Assert.Equal(14, (int)problem["range"]!["start"]!["character"]!);
    }
}
