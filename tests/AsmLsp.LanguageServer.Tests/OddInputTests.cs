using System.Text.Json.Nodes;
using AsmLsp.LanguageServer.Tests.Harness;

namespace AsmLsp.LanguageServer.Tests;

/// <summary>What good clients seldom send, to every request about a document: an answer or a refusal comes, never a fault of the server's own.</summary>
public sealed class OddInputTests
{
    private const string Source =
        " list p=16f84a\n __config 0x3ff1\n org 0\nstart movlw 0x1f\n call wait\n goto start\nwait return\n end\n";

    /// <summary>InternalError of JSON-RPC 2.0.</summary>
    private const int InternalError = -32603;

    public static TheoryData<string> Methods =>
        [
            "textDocument/codeAction",
            "textDocument/codeLens",
            "textDocument/completion",
            "textDocument/declaration",
            "textDocument/definition",
            "textDocument/diagnostic",
            "textDocument/documentHighlight",
            "textDocument/documentLink",
            "textDocument/documentSymbol",
            "textDocument/foldingRange",
            "textDocument/formatting",
            "textDocument/hover",
            "textDocument/inlayHint",
            "textDocument/linkedEditingRange",
            "textDocument/onTypeFormatting",
            "textDocument/prepareCallHierarchy",
            "textDocument/prepareRename",
            "textDocument/rangeFormatting",
            "textDocument/references",
            "textDocument/rename",
            "textDocument/selectionRange",
            "textDocument/semanticTokens/full",
            "textDocument/semanticTokens/full/delta",
            "textDocument/semanticTokens/range",
            "textDocument/signatureHelp",
            "textDocument/willSaveWaitUntil",
        ];

    [Fact]
    public void Every_request_about_a_document_is_in_the_list()
    {
        IEnumerable<string> answered = Features.CapabilityTests.TestedMethods.Where(method =>
            method.StartsWith("textDocument/", StringComparison.Ordinal)
            && !method.StartsWith("textDocument/did", StringComparison.Ordinal)
        );
        Assert.Equal(answered.Order(), ((IEnumerable<object[]>)Methods).Select(row => (string)row[0]).Order());
    }

    [Theory]
    [MemberData(nameof(Methods))]
    public async Task Address_that_is_no_open_file_is_no_fault(string method)
    {
        await using Desk desk = await Desk.StartAsync();
        foreach (
            string uri in (string[])
                [
                    "file:///nowhere/at/all.asm",
                    "file:///c%3A/no%20drive/main.asm",
                    "file://server/share/main.asm",
                    "untitled:Untitled-1",
                    "memfs:/a%20b.asm",
                    "git:/main.asm?%7B%7D",
                    "x",
                ]
        )
        {
            await NoFaultAsync(desk, method, uri, 0, 0);
        }
    }

    [Theory]
    [MemberData(nameof(Methods))]
    public async Task Place_outside_the_document_is_no_fault(string method)
    {
        await using Desk desk = await Desk.StartAsync();
        foreach (string text in (string[])["", "\n", Source, Source.TrimEnd('\n'), "\ufeff" + Source, "start \ud83d"])
        {
            desk.Open("main.asm", text);
            foreach (
                (int line, int character) in ((int, int)[])
                    [(0, 0), (0, 1_000_000), (3, 2), (7, 4), (8, 0), (1_000_000, 0), (int.MaxValue, int.MaxValue)]
            )
            {
                await NoFaultAsync(desk, method, desk.UriOf("main.asm"), line, character);
            }
        }
    }

    [Theory]
    [MemberData(nameof(Methods))]
    public async Task Document_without_a_file_is_answered_like_one(string method)
    {
        await using Desk desk = await Desk.StartAsync();
        foreach (string uri in (string[])["untitled:Untitled-1", "memfs:/a%20b.asm", "file:///c%3A/pic/main.asm"])
        {
            desk.Open(uri, Source);
            await NoFaultAsync(desk, method, uri, 3, 2);
        }
    }

    [Fact]
    public async Task Two_windows_on_one_folder_build_the_same_hex_and_leave_no_file_over()
    {
        await using Desk first = await Desk.StartAsync(inWorkspace: true);
        await using Desk second = await Desk.StartAsync();
        string path = first.Write("main.asm", Source),
            uri = first.UriOf("main.asm");
        foreach (Desk desk in (Desk[])[first, second])
        {
            desk.Session.Open(uri, Source, 1);
        }

        for (int i = 0; i < 20; i++)
        {
            string text = Source.Replace("0x1f", $"0x{i:x2}", StringComparison.Ordinal);
            await File.WriteAllTextAsync(path, text);
            foreach (Desk desk in (Desk[])[first, second])
            {
                desk.Session.Client.Notify(
                    "textDocument/didChange",
                    new JsonObject
                    {
                        ["textDocument"] = new JsonObject { ["uri"] = uri, ["version"] = i + 2 },
                        ["contentChanges"] = new JsonArray(new JsonObject { ["text"] = text }),
                    }
                );
                desk.Session.Client.Notify(
                    "textDocument/didSave",
                    new JsonObject
                    {
                        ["textDocument"] = new JsonObject { ["uri"] = uri },
                        ["text"] = text,
                    }
                );
            }
        }

        foreach (Desk desk in (Desk[])[first, second])
        {
            int Reported() =>
                desk.Session.Client.FromServer.Count(message => (string?)message["method"] == "window/showMessage");
            for (var waited = System.Diagnostics.Stopwatch.StartNew(); Reported() < 20; await Task.Delay(5))
            {
                Assert.True(
                    waited.Elapsed < TimeSpan.FromSeconds(60),
                    $"{Reported()} of 20 saves were reported to be built."
                );
            }

            Assert.DoesNotContain(
                desk.Session.Client.FromServer,
                message => (string?)message["method"] == "window/showMessage" && (int)message["params"]!["type"]! == 1
            );
        }

        // MOVLW 0x13 is 0x3013 (data sheet DS35007B, table 7-2), low byte first.
        Assert.StartsWith(
            ":080000001330",
            (await File.ReadAllTextAsync(Path.Combine(first.Folder, "main.hex")))
                .Split('\n')
                .First(line => line.StartsWith(":08", StringComparison.Ordinal)),
            StringComparison.Ordinal
        );
        Assert.Equal(["main.asm", "main.hex"], Directory.GetFiles(first.Folder).Select(Path.GetFileName).Order());
    }

    [Fact]
    public async Task Include_of_several_programs_is_seen_through_the_one_that_is_open()
    {
        await using Desk desk = await Desk.StartAsync(inWorkspace: true);
        foreach (string name in (string[])["aerial", "beacon"])
        {
            desk.Write(
                name + ".asm",
                $" list p=16f84a\n __config 0x3ff1\n{name}_lamp equ 1\n include \"shared.inc\"\n end\n"
            );
        }

        // Only one of the two programs knows the name; whichever is open has to be taken.
        const string Shared = " movlw beacon_lamp\n";
        desk.Write("shared.inc", Shared);
        desk.Open("shared.inc", Shared);
        Assert.Contains("1:undefined-name", await desk.ProblemsAsync("shared.inc"));
        desk.Open("beacon.asm", await File.ReadAllTextAsync(Path.Combine(desk.Folder, "beacon.asm")));
        desk.Session.Client.Notify(
            "textDocument/didChange",
            new JsonObject
            {
                ["textDocument"] = new JsonObject { ["uri"] = desk.UriOf("shared.inc"), ["version"] = 2 },
                ["contentChanges"] = new JsonArray(new JsonObject { ["text"] = Shared + "; again\n" }),
            }
        );
        Assert.DoesNotContain("1:undefined-name", await desk.ProblemsAsync("shared.inc", 2));
    }

    private static async Task NoFaultAsync(Desk desk, string method, string uri, int line, int character)
    {
        JsonObject reply = await desk.Session.Client.Ask(method, Parameters(method, uri, line, character)).Reply;
        Assert.False(
            (int?)reply["error"]?["code"] == InternalError,
            $"{method} {uri} {line}:{character}: {reply.ToJsonString()}"
        );
    }

    private static JsonObject Parameters(string method, string uri, int line, int character)
    {
        JsonObject Place() => new() { ["line"] = line, ["character"] = character };
        JsonObject Range() => new() { ["start"] = Place(), ["end"] = Place() };
        JsonObject options = new() { ["tabSize"] = 8, ["insertSpaces"] = true };
        var parameters = new JsonObject { ["textDocument"] = new JsonObject { ["uri"] = uri } };
        foreach (
            (string key, JsonNode? value) in method.Split('/', 2)[1] switch
            {
                "codeAction" => new JsonObject
                {
                    ["range"] = Range(),
                    ["context"] = new JsonObject { ["diagnostics"] = new JsonArray() },
                },
                "inlayHint" or "semanticTokens/range" => new JsonObject { ["range"] = Range() },
                "formatting" => new JsonObject { ["options"] = options },
                "rangeFormatting" => new JsonObject { ["range"] = Range(), ["options"] = options },
                "onTypeFormatting" => new JsonObject
                {
                    ["position"] = Place(),
                    ["ch"] = "\n",
                    ["options"] = options,
                },
                "selectionRange" => new JsonObject { ["positions"] = new JsonArray(Place()) },
                "semanticTokens/full/delta" => new JsonObject { ["previousResultId"] = "unheard of" },
                "willSaveWaitUntil" => new JsonObject { ["reason"] = 1 },
                "references" => new JsonObject
                {
                    ["position"] = Place(),
                    ["context"] = new JsonObject { ["includeDeclaration"] = true },
                },
                "rename" => new JsonObject { ["position"] = Place(), ["newName"] = "other" },
                "codeLens"
                or "diagnostic"
                or "documentLink"
                or "documentSymbol"
                or "foldingRange"
                or "semanticTokens/full" => [],
                _ => new JsonObject { ["position"] = Place() },
            }
        )
        {
            parameters[key] = value?.DeepClone();
        }

        return parameters;
    }
}
