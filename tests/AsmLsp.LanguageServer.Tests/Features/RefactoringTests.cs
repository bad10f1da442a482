using System.Text.Json.Nodes;
using AsmLsp.LanguageServer.Tests.Harness;

namespace AsmLsp.LanguageServer.Tests.Features;

public sealed class RefactoringTests
{
    private const string Source =
        " list p=16f84a\n include <p16f84a.inc>\n __config 0x3FF1\nCount equ 0x20\n bsf 3,5\n movwf COUNT\n movlw 0x41\n goto $\n end\n";

    /// <summary>Capabilities of an editor that fetches the edits of the action that was chosen.</summary>
    private const string Fetching = """
        {"textDocument":{"codeAction":{"codeActionLiteralSupport":{"codeActionKind":{"valueSet":["quickfix","refactor"]}},"isPreferredSupport":true,"dataSupport":true,"resolveSupport":{"properties":["edit"]}}}}
        """;

    [Fact]
    public async Task Refactorings_come_after_the_fixes_and_are_never_preferred()
    {
        await using Desk desk = await Desk.StartAsync();
        JsonArray actions = await AtAsync(desk, Source, 5, 8, 5, 8);
        string[] kinds = [.. actions.Select(a => (string)a!["kind"]!)];
        Assert.StartsWith("quickfix", kinds[0], StringComparison.Ordinal);
        int first = Array.FindIndex(kinds, k => k.StartsWith("refactor.", StringComparison.Ordinal));
        Assert.True(first > 0);
        Assert.All(kinds[first..], k => Assert.StartsWith("refactor.", k, StringComparison.Ordinal));
        Assert.All(actions.Skip(first), a => Assert.Null(a!["isPreferred"]));
        Assert.All(actions.Skip(first), a => Assert.NotNull(a!["edit"]));
        Assert.Contains(
            "Write Count as it is defined in the one place of the program where it is not (same words)",
            Titles(actions)
        );
    }

    [Fact]
    public async Task Server_names_the_kinds_that_it_gives()
    {
        await using Desk desk = await Desk.StartAsync();
        string[] kinds =
        [
            .. desk.Offer["capabilities"]!["codeActionProvider"]!["codeActionKinds"]!.AsArray().Select(k => (string)k!),
        ];
        Assert.Equal(
            ["quickfix", "refactor.extract", "refactor.inline", "refactor.rewrite", "source.fixAll.relist"],
            kinds
        );
    }

    [Fact]
    public async Task Edit_makes_the_text_that_the_title_says()
    {
        await using Desk desk = await Desk.StartAsync();
        JsonNode action = Single(await AtAsync(desk, Source, 4, 2, 4, 2), "Write STATUS,RP0 for 3,5 (same words)");
        Assert.Equal("refactor.rewrite", (string)action["kind"]!);
        Assert.Equal(
            Source.Replace("bsf 3,5", "bsf STATUS,RP0", StringComparison.Ordinal),
            ActionTests.Apply(Source, action["edit"]!["documentChanges"]![0]!["edits"]!)
        );
    }

    [Fact]
    public async Task Edit_is_fetched_later_and_gone_when_the_text_has_changed()
    {
        await using Desk desk = await Desk.StartAsync(Fetching);
        JsonNode action = Single(await AtAsync(desk, Source, 6, 8, 6, 8), "Write 0x41 as decimal: .65 (same words)");
        Assert.Null(action["edit"]);
        JsonNode resolved = (await desk.Session.Client.RequestAsync("codeAction/resolve", action))!;
        Assert.Equal(
            Source.Replace("0x41", ".65", StringComparison.Ordinal),
            ActionTests.Apply(Source, resolved["edit"]!["changes"]!.AsObject().Single().Value!)
        );
        desk.Session.Change(
            desk.UriOf("main.asm"),
            2,
            Session.Whole(Source.Replace("0x41", "0x42", StringComparison.Ordinal))
        );
        Assert.Equal(-32801, await desk.Session.Client.ErrorOfAsync("codeAction/resolve", action));
    }

    [Fact]
    public async Task What_does_not_hold_is_left_out_or_refused_when_it_is_chosen()
    {
        // The block after continues from the first one, so its name would get another value.
        const string Blocks =
            " cblock 0x30\na1\n endc\nx1 equ 0x20\nx2 equ 0x21\n cblock\nb1\n endc\n movwf b1\n end\n";
        const string Title = "Turn 2 definitions from x1 on into a block (cblock) (same words)";
        await using Desk desk = await Desk.StartAsync();
        Assert.DoesNotContain(Title, Titles(await AtAsync(desk, Blocks, 3, 0, 3, 0)));
        await using Desk fetching = await Desk.StartAsync(Fetching);
        JsonNode action = Single(await AtAsync(fetching, Blocks, 3, 0, 3, 0), Title);
        Assert.NotEqual(0, await fetching.Session.Client.ErrorOfAsync("codeAction/resolve", action));
    }

    [Theory]
    [InlineData("refactor", "refactor.extract", "refactor.rewrite")]
    [InlineData("refactor.extract", "refactor.extract")]
    [InlineData("refactor.extract.constant")]
    [InlineData("refactor.inline")]
    [InlineData("source")]
    public async Task Only_the_kinds_that_are_asked_for_are_given(string only, params string[] kinds)
    {
        await using Desk desk = await Desk.StartAsync();
        JsonArray actions = await AtAsync(desk, Source, 6, 8, 6, 8, new JsonObject { ["only"] = new JsonArray(only) });
        Assert.Equal(
            kinds,
            actions
                .Select(a => (string)a!["kind"]!)
                .Where(k => k.StartsWith("refactor", StringComparison.Ordinal))
                .Distinct()
                .Order()
        );
    }

    [Fact]
    public async Task Only_what_is_cheap_is_looked_for_where_the_editor_asks_by_itself()
    {
        await using Desk desk = await Desk.StartAsync();
        string[] titles = Titles(await AtAsync(desk, Source, 6, 8, 6, 8, new JsonObject { ["triggerKind"] = 2 }));
        Assert.Contains("Write 0x41 as a character: 'A' (same words)", titles);
        Assert.DoesNotContain(titles, t => t.StartsWith("Give ", StringComparison.Ordinal));
        Assert.Contains(
            Titles(await AtAsync(desk, Source, 6, 8, 6, 8, new JsonObject { ["triggerKind"] = 1 })),
            t => t.StartsWith("Give ", StringComparison.Ordinal)
        );
    }

    [Fact]
    public async Task Edits_go_to_the_files_that_hold_the_places()
    {
        await using Desk desk = await Desk.StartAsync();
        desk.Write("part.inc", " clrf COUNT\n");
        const string Main = "Count equ 0x20\n include \"part.inc\"\n movwf Count\n end\n";
        JsonNode action = Single(
            await AtAsync(desk, Main, 0, 1, 0, 1),
            "Write Count as it is defined in the one place of the program where it is not (same words)"
        );
        JsonNode change = Assert.Single(action["edit"]!["documentChanges"]!.AsArray())!;
        Assert.EndsWith("/part.inc", (string)change["textDocument"]!["uri"]!, StringComparison.Ordinal);
        Assert.Equal(" clrf Count\n", ActionTests.Apply(" clrf COUNT\n", change["edits"]!));
    }

    [Fact]
    public async Task Part_whose_program_is_not_found_is_commented_only()
    {
        // Whether 10 is ten or sixteen, the program around it says.
        await using Desk desk = await Desk.StartAsync();
        desk.Open("delay.inc", "wait movlw 10\n return\n");
        JsonNode? actions = await desk.OfAsync(
            "textDocument/codeAction",
            "delay.inc",
            JsonNode
                .Parse(
                    """{"range":{"start":{"line":0,"character":12},"end":{"line":0,"character":12}},"context":{"diagnostics":[],"only":["refactor"]}}"""
                )!
                .AsObject()
        );
        Assert.Equal(["Comment out this line (changes the program's words)"], Titles(actions!.AsArray()));
    }

    [Fact]
    public async Task Client_whose_menus_hold_commands_gets_refactorings_as_commands()
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
        JsonNode command = Single(await AtAsync(desk, Source, 4, 2, 4, 2), "Write STATUS,RP0 for 3,5 (same words)");
        await desk.Session.Client.RequestAsync(
            "workspace/executeCommand",
            new JsonObject
            {
                ["command"] = (string)command["command"]!,
                ["arguments"] = command["arguments"]!.DeepClone(),
            }
        );
        Assert.Contains(
            "bsf STATUS,RP0",
            ActionTests.Apply(Source, applied!["edit"]!["changes"]!.AsObject().Single().Value!),
            StringComparison.Ordinal
        );
    }

    [Fact]
    public async Task Client_that_makes_everything_it_is_given_is_given_no_refactoring()
    {
        // As Kate 22.12 asks when the place of a problem is clicked.
        await using Desk desk = await Desk.StartAsync(
            """{"textDocument":{"codeAction":{"codeActionLiteralSupport":{"codeActionKind":{"valueSet":["quickfix","refactor","source"]}}}}}"""
        );
        JsonObject context = JsonNode
            .Parse(
                """{"diagnostics":[{"range":{"start":{"line":5,"character":7},"end":{"line":5,"character":12}},"message":"","code":"name-differs-by-case"}]}"""
            )!
            .AsObject();
        Assert.All(
            await AtAsync(desk, Source, 5, 7, 5, 12, context),
            a => Assert.DoesNotContain("refactor", (string)a!["kind"]!, StringComparison.Ordinal)
        );
    }

    [Theory]
    [InlineData(4, 7, 4, 0)]
    [InlineData(900, 3, 1000, 0)]
    [InlineData(6, 900, 0, 0)]
    [InlineData(0, 0, 0, 0)]
    public async Task Odd_ranges_are_answered(int line, int character, int endLine, int endCharacter)
    {
        await using Desk desk = await Desk.StartAsync();
        foreach (JsonNode? action in await AtAsync(desk, Source, line, character, endLine, endCharacter))
        {
            Assert.NotEqual("", (string)action!["title"]!);
        }
    }

    [Fact]
    public async Task Long_program_gets_only_so_many_at_once_where_each_has_to_be_worked_out()
    {
        string text =
            " list p=16f84a\n include <p16f84a.inc>\n"
            + string.Concat(Enumerable.Repeat("; words\n", 60_000))
            + " movlw 0x41\n goto $\n end\n";
        await using Desk desk = await Desk.StartAsync();
        Assert.Equal(
            4,
            (await AtAsync(desk, text, 60_002, 8, 60_002, 8)).Count(a =>
                ((string)a!["kind"]!).StartsWith("refactor", StringComparison.Ordinal)
            )
        );
        await using Desk fetching = await Desk.StartAsync(Fetching);
        Assert.True(
            (await AtAsync(fetching, text, 60_002, 8, 60_002, 8)).Count(a =>
                ((string)a!["kind"]!).StartsWith("refactor", StringComparison.Ordinal)
            ) > 4
        );
    }

    private static JsonNode Single(JsonArray actions, string title) =>
        actions.SingleOrDefault(a => (string)a!["title"]! == title)
        ?? throw new Xunit.Sdk.XunitException($"No '{title}', but\n{string.Join("\n", Titles(actions))}");

    private static string[] Titles(JsonArray actions) => [.. actions.Select(a => (string)a!["title"]!)];

    private static async Task<JsonArray> AtAsync(
        Desk desk,
        string source,
        int line,
        int character,
        int endLine,
        int endCharacter,
        JsonObject? context = null
    )
    {
        desk.Open("main.asm", source);
        JsonObject asked = context ?? [];
        asked["diagnostics"] ??= new JsonArray();
        JsonNode? actions = await desk.OfAsync(
            "textDocument/codeAction",
            "main.asm",
            new JsonObject
            {
                ["range"] = new JsonObject
                {
                    ["start"] = new JsonObject { ["line"] = line, ["character"] = character },
                    ["end"] = new JsonObject { ["line"] = endLine, ["character"] = endCharacter },
                },
                ["context"] = asked,
            }
        );
        return actions!.AsArray();
    }
}
