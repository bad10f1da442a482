using System.Text.Json.Nodes;
using AsmLsp.LanguageServer.Tests.Harness;

namespace AsmLsp.LanguageServer.Tests.Features;

public sealed class BuildTests
{
    private const string Source = " list p=16f84a\n __config 0x3ff1\n org 0\nstart movlw 0x1f\n goto start\n end\n";

    /// <summary>
    /// MOVLW 0x1F is 0x301F, GOTO 0 is 0x2800 (data sheet DS35007B, table 7-2); low byte first; each sum byte makes the bytes of its record
    /// add up to 0 modulo 256 (Intel HEX specification of 1988).
    /// </summary>
    private static readonly string[] Hex = [":040000001F30002885", ":02400E00F13F80", ":00000001FF"];

    [Fact]
    public async Task Saving_writes_the_hex_and_reports_its_figures()
    {
        await using Desk desk = await Desk.StartAsync();
        desk.Write("main.asm", Source);
        desk.Open("main.asm", Source);
        Save(desk, "main.asm");
        JsonNode reported = await MessageAsync(desk);
        Assert.Equal(3, (int)reported["type"]!);
        Assert.StartsWith(
            $"main.hex written in {Path.GetFileName(desk.Folder)}: configuration 0x3FF1, 2 of 1024 words used, checksum 0x",
            (string)reported["message"]!,
            StringComparison.Ordinal
        );
        Assert.Empty(Hex.Except(await File.ReadAllLinesAsync(Path.Combine(desk.Folder, "main.hex"))));
    }

    [Fact]
    public async Task Save_that_is_notified_twice_builds_once()
    {
        await using Desk desk = await Desk.StartAsync();
        desk.Write("main.asm", Source);
        desk.Open("main.asm", Source);
        Save(desk, "main.asm");
        Save(desk, "main.asm");
        await MessageAsync(desk);
        await desk.Session.Client.RequestAsync(
            "workspace/executeCommand",
            Command("relist.build", desk.UriOf("main.asm"))
        );
        Assert.Equal(
            2,
            desk.Session.Client.FromServer.Count(message => (string?)message["method"] == "window/showMessage")
        );
    }

    [Fact]
    public async Task Hex_that_vanished_or_was_replaced_is_there_again_after_the_next_save_of_the_same_text()
    {
        await using Desk desk = await Desk.StartAsync();
        string hex = Path.Combine(desk.Folder, "main.hex");
        desk.Write("main.asm", Source);
        desk.Open("main.asm", Source);
        Save(desk, "main.asm");
        await MessageAsync(desk, 1);
        File.Delete(hex);
        Save(desk, "main.asm");
        await MessageAsync(desk, 2);
        Assert.Empty(Hex.Except(await File.ReadAllLinesAsync(hex)));
        desk.Write("main.hex", "somebody else's");
        Save(desk, "main.asm");
        await MessageAsync(desk, 3);
        Assert.Empty(Hex.Except(await File.ReadAllLinesAsync(hex)));
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task Save_that_is_notified_before_the_edits_in_it_writes_the_hex_of_what_is_saved(bool withText)
    {
        await using Desk desk = await Desk.StartAsync();
        Assert.False((bool)desk.Offer["capabilities"]!["textDocumentSync"]!["save"]!["includeText"]!);
        desk.Open("main.asm", Source.Replace("0x1f", "0x2e", StringComparison.Ordinal));
        if (!withText)
        {
            desk.Write("main.asm", Source);
        }

        Save(desk, "main.asm", withText ? Source : null);
        Assert.StartsWith("main.hex written", (string)(await MessageAsync(desk))["message"]!, StringComparison.Ordinal);
        Assert.Empty(Hex.Except(await File.ReadAllLinesAsync(Path.Combine(desk.Folder, "main.hex"))));
    }

    [Fact]
    public async Task Saves_on_each_others_heels_leave_the_hex_of_the_last_text()
    {
        await using Desk desk = await Desk.StartAsync();
        desk.Open("main.asm", Source);
        for (int i = 0; i < 40; i++)
        {
            string text = Source.Replace(
                "0x1f",
                string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{i}"),
                StringComparison.Ordinal
            );
            desk.Session.Client.Notify(
                "textDocument/didChange",
                new JsonObject
                {
                    ["textDocument"] = new JsonObject { ["uri"] = desk.UriOf("main.asm"), ["version"] = i + 2 },
                    ["contentChanges"] = new JsonArray(new JsonObject { ["text"] = text }),
                }
            );
            Save(desk, "main.asm");
        }

        await MessageAsync(desk, 40);
        // MOVLW 0x39 is 0x3039: without a mark a number is hexadecimal, so the last text says 0x39.
        Assert.StartsWith(
            ":0400000039300028",
            (await File.ReadAllLinesAsync(Path.Combine(desk.Folder, "main.hex"))).First(line =>
                line.StartsWith(":04000000", StringComparison.Ordinal)
            ),
            StringComparison.Ordinal
        );
    }

    [Fact]
    public async Task Program_with_errors_leaves_the_old_hex_and_says_so()
    {
        await using Desk desk = await Desk.StartAsync();
        desk.Write("main.hex", "old");
        desk.Open("main.asm", Source.Replace("goto start", "goto nowhere", StringComparison.Ordinal));
        Save(desk, "main.asm");
        JsonNode reported = await MessageAsync(desk);
        Assert.Equal(1, (int)reported["type"]!);
        Assert.Equal(
            "main.asm: No HEX is written: fix 1 error first. main.hex is left as it was.",
            (string)reported["message"]!
        );
        Assert.Equal("old", await File.ReadAllTextAsync(Path.Combine(desk.Folder, "main.hex")));
    }

    [Fact]
    public async Task Setting_turns_building_on_save_off_and_the_command_still_builds()
    {
        await using Desk desk = await Desk.StartAsync(
            settings: JsonNode.Parse("""{"buildOnSave":false,"output":"out/result.hex"}""")
        );
        Directory.CreateDirectory(Path.Combine(desk.Folder, "out"));
        desk.Open("main.asm", Source);
        Save(desk, "main.asm");
        JsonNode? path = await desk.Session.Client.RequestAsync(
            "workspace/executeCommand",
            Command("relist.build", desk.UriOf("main.asm"))
        );
        Assert.Equal(Path.Combine(desk.Folder, "out", "result.hex"), (string)path!);
        Assert.True(File.Exists((string)path!));
        Assert.Single(desk.Session.Client.FromServer, message => (string?)message["method"] == "window/showMessage");
    }

    [Fact]
    public async Task The_project_file_may_turn_building_on_save_off()
    {
        await using Desk desk = await Desk.StartAsync();
        desk.Write("relist.json", """{"buildOnSave":false}""");
        desk.Open("main.asm", Source);
        Save(desk, "main.asm");
        // The command builds after the save, so that one message says that the save built nothing.
        await desk.Session.Client.RequestAsync(
            "workspace/executeCommand",
            Command("relist.build", desk.UriOf("main.asm"))
        );
        Assert.Single(desk.Session.Client.FromServer, message => (string?)message["method"] == "window/showMessage");
    }

    [Fact]
    public async Task Hex_of_text_that_is_not_saved_says_whose_text()
    {
        await using Desk desk = await Desk.StartAsync();
        desk.Write("main.asm", "; old\n");
        desk.Open("main.asm", Source);
        await desk.Session.Client.RequestAsync(
            "workspace/executeCommand",
            Command("relist.build", desk.UriOf("main.asm"))
        );
        Assert.EndsWith(
            "(with changes in main.asm that are not saved yet)",
            (string)(await MessageAsync(desk))["message"]!,
            StringComparison.Ordinal
        );
    }

    [Fact]
    public async Task Folder_that_vanished_is_reported_and_not_made_again()
    {
        await using Desk desk = await Desk.StartAsync();
        Directory.CreateDirectory(Path.Combine(desk.Folder, "gone"));
        desk.Open("gone/main.asm", Source);
        Directory.Delete(Path.Combine(desk.Folder, "gone"));
        Save(desk, "gone/main.asm");
        JsonNode reported = await MessageAsync(desk);
        Assert.Equal(1, (int)reported["type"]!);
        Assert.Contains("its folder does not exist", (string)reported["message"]!, StringComparison.Ordinal);
        Assert.False(Directory.Exists(Path.Combine(desk.Folder, "gone")));
    }

    [Fact]
    public async Task Buffer_without_a_file_is_not_built_and_that_is_reported()
    {
        await using Desk desk = await Desk.StartAsync();
        desk.Open("untitled:Untitled-1", Source);
        Assert.Null(
            await desk.Session.Client.RequestAsync(
                "workspace/executeCommand",
                Command("relist.build", "untitled:Untitled-1")
            )
        );
        Assert.Contains("save it first", (string)(await MessageAsync(desk))["message"]!, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Saving_an_include_builds_its_program()
    {
        await using Desk desk = await Desk.StartAsync();
        desk.Write("main.asm", " list p=16f84a\n __config 0x3ff1\n call wait\n include \"delay.inc\"\n end\n");
        desk.Write("delay.inc", "wait return\n");
        desk.Open("delay.inc", "wait return\n");
        Save(desk, "delay.inc");
        Assert.StartsWith(
            $"main.hex written in {Path.GetFileName(desk.Folder)}: configuration 0x3FF1, 2 of 1024 words used",
            (string)(await MessageAsync(desk))["message"]!,
            StringComparison.Ordinal
        );
        Assert.False(File.Exists(Path.Combine(desk.Folder, "delay.hex")));
    }

    [Fact]
    public async Task Progress_is_shown_where_the_client_shows_one()
    {
        await using Desk desk = await Desk.StartAsync();
        desk.Open("main.asm", Source);
        JsonObject command = Command("relist.build", desk.UriOf("main.asm"));
        command["workDoneToken"] = "mine";
        await desk.Session.Client.RequestAsync("workspace/executeCommand", command);
        string[] kinds =
        [
            .. desk
                .Session.Client.FromServer.Where(message => (string?)message["method"] == "$/progress")
                .Select(message => (string)message["params"]!["value"]!["kind"]!),
        ];
        Assert.Equal(["begin", "end"], kinds);
    }

    [Theory]
    [InlineData("relist.unknown", "file:///x.asm", -32602)]
    [InlineData("relist.build", "file:///nowhere/at/all.asm", -32803)]
    [InlineData("relist.showProblemPage", "no-such-kind", -32803)]
    public async Task Command_that_cannot_be_done_is_refused(string command, string argument, int code)
    {
        await using Desk desk = await Desk.StartAsync();
        Assert.Equal(
            code,
            await desk.Session.Client.ErrorOfAsync("workspace/executeCommand", Command(command, argument))
        );
    }

    [Fact]
    public async Task Page_of_a_problem_is_written_and_shown_and_its_address_is_the_one_that_problems_carry()
    {
        string? shown = null;
        await using Desk desk = await Desk.StartAsync(
            answer: (method, parameters) =>
            {
                shown = method == "window/showDocument" ? (string)parameters!["uri"]! : shown;
                return method == "window/showDocument" ? new JsonObject { ["success"] = true } : null;
            }
        );
        desk.Open("main.asm", Source.Replace("goto start", "goto nowhere", StringComparison.Ordinal));
        JsonObject reported = await desk.Session.Client.WaitForAsync("textDocument/publishDiagnostics");
        string href = (string)reported["params"]!["diagnostics"]![0]!["codeDescription"]!["href"]!;
        JsonNode? address = await desk.Session.Client.RequestAsync(
            "workspace/executeCommand",
            Command("relist.showProblemPage", "undefined-name")
        );
        Assert.Equal(href, (string)address!);
        Assert.Equal(href, shown);
        Assert.StartsWith("#", await File.ReadAllTextAsync(new Uri(href).LocalPath), StringComparison.Ordinal);
    }

    private static void Save(Desk desk, string name, string? text = null)
    {
        var parameters = new JsonObject { ["textDocument"] = new JsonObject { ["uri"] = desk.UriOf(name) } };
        if (text is not null)
        {
            parameters["text"] = text;
        }

        desk.Session.Client.Notify("textDocument/didSave", parameters);
    }

    private static JsonObject Command(string name, params string[] arguments) =>
        new()
        {
            ["command"] = name,
            ["arguments"] = new JsonArray([.. arguments.Select(argument => (JsonNode)argument)]),
        };

    /// <summary>Waits until so many messages were shown in all.</summary>
    private static async Task MessageAsync(Desk desk, int count)
    {
        int Shown() =>
            desk.Session.Client.FromServer.Count(message => (string?)message["method"] == "window/showMessage");
        for (var waited = System.Diagnostics.Stopwatch.StartNew(); Shown() < count; await Task.Delay(5))
        {
            Assert.True(waited.Elapsed < TimeSpan.FromSeconds(60), $"{Shown()} of {count} messages came.");
        }
    }

    private static async Task<JsonNode> MessageAsync(Desk desk) =>
        (await desk.Session.Client.WaitForAsync("window/showMessage"))["params"]!;
}
