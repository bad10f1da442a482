using System.Text.Json;
using System.Text.Json.Nodes;
using AsmLsp.LanguageServer.Features;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Tests.Harness;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Tests;

public sealed class SettingsTests
{
    [Fact]
    public void Every_setting_is_read()
    {
        (Settings settings, var complaints) = Read(
            """
            {"chip":"16F84A","clock":"4 MHz","include":["inc"],"buildOnSave":false,"output":"out.hex","tidyOnSave":true,"format":{"tabWidth":4},
             "inlayHints":{"words":true,"values":true,"cycles":true},"codeLens":{"callers":false,"size":false}}
            """
        );
        Assert.Empty(complaints);
        Assert.Equal(
            new Settings
            {
                Chip = "16F84A",
                Clock = "4 MHz",
                Include = ["inc"],
                TabWidth = 4,
                BuildOnSave = false,
                Output = "out.hex",
                TidyOnSave = true,
                HintWords = true,
                HintValues = true,
                HintCycles = true,
                LensCallers = false,
                LensSize = false,
            },
            settings
        );
        Assert.NotEqual(Settings.Default, settings);
    }

    [Theory]
    [InlineData("null")]
    [InlineData("{}")]
    [InlineData(
        """{"chip":null,"clock":null,"include":null,"format":{"tabWidth":null},"buildOnSave":null,"output":null,"tidyOnSave":null}"""
    )]
    [InlineData("""{"chip":"","clock":"  "}""")]
    [InlineData("""{"somethingElse":5}""")]
    public void Null_empty_and_missing_mean_the_default(string json)
    {
        (Settings settings, var complaints) = Read(json);
        Assert.Equal(Settings.Default, settings);
        Assert.Empty(complaints);
    }

    [Theory]
    [InlineData("""{"format":{"tabWidth":"4"}}""", "relist.format.tabWidth should be a whole number from 1 to 32")]
    [InlineData("""{"format":{"tabWidth":0}}""", "relist.format.tabWidth should be a whole number from 1 to 32")]
    [InlineData("""{"format":{"tabWidth":4.5}}""", "relist.format.tabWidth should be a whole number from 1 to 32")]
    [InlineData("""{"clock":4000000}""", "relist.clock should be a text")]
    [InlineData("""{"include":"inc"}""", "relist.include should be a list of texts")]
    [InlineData("""{"buildOnSave":"yes"}""", "relist.buildOnSave should be true or false")]
    [InlineData("[]", "should be an object")]
    [InlineData("true", "should be an object")]
    public void Wrong_type_is_reported_and_the_default_used(string json, string complaint)
    {
        (Settings settings, var complaints) = Read(json);
        Assert.Equal(Settings.Default, settings);
        Assert.Contains(complaint, Assert.Single(complaints), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Client_that_answers_questions_is_asked_at_the_start_and_after_each_change()
    {
        int tab = 2;
        await using Session session = await StartAsync(
            """{"workspace":{"configuration":true}}""",
            (method, _) =>
                method == Methods.Configuration ? new JsonArray(new JsonObject { ["format.tabWidth"] = tab }) : null
        );
        await UntilAsync(session, 2);
        tab = 3;
        session.Client.Notify(DidChangeConfigurationHandler.Method, new JsonObject { ["settings"] = null });
        await UntilAsync(session, 3);
    }

    [Fact]
    public async Task Client_that_pushes_is_listened_to()
    {
        await using Session session = await StartAsync(
            "{}",
            null,
            new JsonObject { ["relist"] = new JsonObject { ["format.tabWidth"] = 4 } }
        );
        Assert.Equal(4, await TabWidthAsync(session));
        session.Client.Notify(
            DidChangeConfigurationHandler.Method,
            JsonNode.Parse("""{"settings":{"relist":{"format":{"tabWidth":5}},"other":{}}}""")
        );
        Assert.Equal(5, await TabWidthAsync(session));
        // Settings of somebody else leave ours alone; ours as null are the defaults.
        session.Client.Notify(DidChangeConfigurationHandler.Method, JsonNode.Parse("""{"settings":{"other":{}}}"""));
        Assert.Equal(5, await TabWidthAsync(session));
        session.Client.Notify(DidChangeConfigurationHandler.Method, JsonNode.Parse("""{"settings":{"relist":null}}"""));
        Assert.Equal(8, await TabWidthAsync(session));
        session.Client.SendContent("""{"jsonrpc":"2.0","method":"workspace/didChangeConfiguration","params":{}}""");
        Assert.Equal(8, await TabWidthAsync(session));
    }

    [Fact]
    public async Task Wrong_setting_is_shown_once()
    {
        await using Session session = await StartAsync("{}", null);
        for (int i = 0; i < 3; i++)
        {
            session.Client.Notify(
                DidChangeConfigurationHandler.Method,
                JsonNode.Parse("""{"settings":{"relist":{"format.tabWidth":"wide"}}}""")
            );
        }

        Assert.Equal(8, await TabWidthAsync(session));
        await session.Client.WaitForAsync(
            Methods.ShowMessage,
            value => ((string)value["message"]!).Contains("relist.format.tabWidth", StringComparison.Ordinal)
        );
        Assert.Single(session.Client.FromServer, message => (string?)message["method"] == Methods.ShowMessage);
    }

    [Theory]
    [InlineData("""[null]""")]
    [InlineData("""[]""")]
    [InlineData("""null""")]
    [InlineData("""[[1,2]]""")]
    public async Task Odd_answer_to_the_question_leaves_the_defaults(string answer)
    {
        await using Session session = await StartAsync(
            """{"workspace":{"configuration":true}}""",
            (_, _) => JsonNode.Parse(answer),
            recordsAnswers: false
        );
        await session.Client.WaitForAsync(Methods.Configuration);
        Assert.Equal(8, await TabWidthAsync(session));
    }

    [Fact]
    public async Task Folders_come_and_go()
    {
        await using Session session = await StartAsync("""{"workspace":{"workspaceFolders":true}}""", null);
        Assert.True((bool)session.Offer!["capabilities"]!["workspace"]!["workspaceFolders"]!["supported"]!);
        session.Client.Notify(
            DidChangeWorkspaceFoldersHandler.Method,
            JsonNode.Parse(
                """{"event":{"added":[{"uri":"file:///a","name":"a"},{"uri":"file:///b","name":"b"}],"removed":[]}}"""
            )
        );
        session.Client.Notify(
            DidChangeWorkspaceFoldersHandler.Method,
            JsonNode.Parse(
                """{"event":{"added":[{"uri":"file:///b","name":"b"}],"removed":[{"uri":"file:///a","name":"a"}]}}"""
            )
        );
        Assert.Equal(
            "file:///b",
            (string)
                (await session.Client.RequestAsync(WorkspaceSymbolHandler.Method, new JsonObject { ["query"] = "" }))![
                    0
                ]!["name"]!
        );
    }

    private static (Settings Settings, IReadOnlyList<string> Complaints) Read(string json) =>
        Settings.Read(JsonElement.Parse(json));

    private static Task<Session> StartAsync(
        string capabilities,
        Func<string, JsonNode?, JsonNode?>? answer,
        JsonNode? options = null,
        bool recordsAnswers = true,
        [System.Runtime.CompilerServices.CallerMemberName] string name = ""
    ) =>
        Session.StartAsync(
            capabilities,
            [.. ProbeFeatures.Spine, new SettingsProbe()],
            options,
            answer,
            recordsAnswers,
            name
        );

    private static async Task<int> TabWidthAsync(Session session) =>
        int.Parse(
            (string)
                (await session.Client.RequestAsync(HoverHandler.Method, ProbeFeatures.At("file:///any.asm")))![
                    "contents"
                ]!,
            System.Globalization.CultureInfo.InvariantCulture
        );

    private static async Task UntilAsync(Session session, int tabWidth)
    {
        using var limit = new CancellationTokenSource(TestClient.Deadline);
        while (await TabWidthAsync(session) != tabWidth)
        {
            await Task.Delay(2, limit.Token);
        }
    }

    /// <summary>Hover says the tab width in force, workspace symbols are the folders.</summary>
    private sealed class SettingsProbe : IFeature
    {
        public void Register(FeatureRegistry registry)
        {
            registry.Request<TextDocumentPositionParams, Hover?>(
                HoverHandler.Method,
                (request, _, _) =>
                    new Hover(request.Settings.TabWidth.ToString(System.Globalization.CultureInfo.InvariantCulture))
            );
            registry.Request<WorkspaceSymbolParams, SymbolInformation[]>(
                WorkspaceSymbolHandler.Method,
                (request, _, _) =>
                    [
                        .. request.Snapshot.Folders.Select(folder => new SymbolInformation(
                            folder.Text,
                            SymbolKind.Package,
                            new(folder.Text, default)
                        )),
                    ]
            );
        }
    }
}
