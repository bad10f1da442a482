using System.Text.Json.Nodes;
using AsmLsp.LanguageServer.Tests.Harness;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Tests.Features;

/// <summary>A folder from elsewhere is opened, and its source is saved: nothing outside of it is written, and nothing above it is believed.</summary>
public sealed class StrangeWorkspaceTests
{
    private const string Source = " list p=16f84a\n __config 0x3ff1\n org 0\nstart movlw 0x1f\n goto start\n end\n";

    [Theory]
    [InlineData("../victim.hex")]
    [InlineData("/VICTIM")]
    [InlineData("out/victim.hex")]
    public async Task Output_of_the_project_file_reaches_nothing_outside(string output)
    {
        await using Desk desk = await StartAsync();
        string victim = desk.Write("victim.hex", "precious");
        Directory.CreateDirectory(Path.Combine(desk.Folder, "ws"));
        File.CreateSymbolicLink(Path.Combine(desk.Folder, "ws", "out"), desk.Folder);
        desk.Write(
            "ws/relist.json",
            new JsonObject { ["output"] = output == "/VICTIM" ? victim : output }.ToJsonString()
        );
        JsonNode reported = await SaveAsync(desk);
        Assert.Equal(1, (int)reported["type"]!);
        Assert.Contains("No HEX is written", (string)reported["message"]!, StringComparison.Ordinal);
        Assert.Equal("precious", await File.ReadAllTextAsync(victim));
    }

    [Fact]
    public async Task Hex_that_is_a_link_is_left_alone()
    {
        await using Desk desk = await StartAsync();
        string victim = desk.Write("victim.txt", "precious");
        Directory.CreateDirectory(Path.Combine(desk.Folder, "ws"));
        File.CreateSymbolicLink(Path.Combine(desk.Folder, "ws", "main.hex"), victim);
        Assert.Contains("is a link", (string)(await SaveAsync(desk))["message"]!, StringComparison.Ordinal);
        Assert.Equal("precious", await File.ReadAllTextAsync(victim));
        Assert.Equal(
            ["main.asm", "main.hex"],
            Directory.GetFiles(Path.Combine(desk.Folder, "ws")).Select(Path.GetFileName).Order()
        );
    }

    [Fact]
    public async Task Root_outside_the_workspace_is_not_built_by_a_save_within()
    {
        await using Desk desk = await StartAsync();
        desk.Write(
            "other.asm",
            Source.Replace("start movlw", " include \"ws/main.asm\"\nstart movlw", StringComparison.Ordinal)
        );
        desk.Write("ws/relist.json", """{ "root": "../other.asm" }""");
        JsonNode reported = await SaveAsync(desk, "lamp equ 1\n");
        Assert.Contains("outside the workspace", (string)reported["message"]!, StringComparison.Ordinal);
        Assert.False(File.Exists(Path.Combine(desk.Folder, "other.hex")));
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task Project_file_above_the_workspace_counts_only_where_a_setting_names_it(bool isNamed)
    {
        await using Desk desk = await StartAsync(isNamed ? new JsonObject { ["project"] = "../relist.json" } : null);
        desk.Write("relist.json", """{ "chip": "16F628A" }""");
        JsonNode reported = await SaveAsync(desk, Source.Replace(" list p=16f84a\n", "", StringComparison.Ordinal));
        // The program words of the two chips: data sheets DS35007 and DS40044, memory organization.
        Assert.Equal(
            isNamed,
            ((string)reported["message"]!).Contains("2 of 2048 words used", StringComparison.Ordinal)
        );
    }

    private static async Task<Desk> StartAsync(JsonNode? settings = null)
    {
        Desk desk = await Desk.StartAsync(settings: settings);
        desk.Session.Client.Notify(
            "workspace/didChangeWorkspaceFolders",
            new JsonObject
            {
                ["event"] = new JsonObject
                {
                    ["added"] = new JsonArray(
                        new JsonObject
                        {
                            ["uri"] = DocumentUri.FromPath(Path.Combine(desk.Folder, "ws")).Text,
                            ["name"] = "ws",
                        }
                    ),
                    ["removed"] = new JsonArray(),
                },
            }
        );
        return desk;
    }

    private static async Task<JsonNode> SaveAsync(Desk desk, string source = Source)
    {
        desk.Write("ws/main.asm", source);
        desk.Open("ws/main.asm", source);
        desk.Session.Client.Notify(
            "textDocument/didSave",
            new JsonObject { ["textDocument"] = new JsonObject { ["uri"] = desk.UriOf("ws/main.asm") } }
        );
        return (await desk.Session.Client.WaitForAsync("window/showMessage"))["params"]!;
    }
}
