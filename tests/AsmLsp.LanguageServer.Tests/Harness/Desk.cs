using System.Runtime.CompilerServices;
using System.Text.Json.Nodes;
using AsmLsp.Core.Printed;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Tests.Harness;

/// <summary>
/// A session with real features and a folder of its own on the disk. Sources are written with <c>{|}</c> where the cursor is.
/// </summary>
internal sealed class Desk : IAsyncDisposable
{
    private Desk(Session session, string folder) => (Session, Folder) = (session, folder);

    public Session Session { get; }

    /// <summary>A folder that is removed at the end; it holds what <see cref="Write"/> put there.</summary>
    public string Folder { get; }

    /// <summary>Capabilities of an editor that can do a lot, without fetching problems.</summary>
    public const string Able = """
        {
          "general": { "positionEncodings": ["utf-16"] },
          "textDocument": {
            "hover": { "contentFormat": ["markdown", "plaintext"] },
            "completion": { "completionItem": { "documentationFormat": ["markdown"], "snippetSupport": true } },
            "signatureHelp": { "signatureInformation": { "documentationFormat": ["markdown"], "parameterInformation": { "labelOffsetSupport": true } } },
            "documentSymbol": { "hierarchicalDocumentSymbolSupport": true },
            "codeAction": { "codeActionLiteralSupport": { "codeActionKind": { "valueSet": ["quickfix", "source.fixAll"] } }, "isPreferredSupport": true, "dataSupport": true },
            "publishDiagnostics": { "relatedInformation": true, "versionSupport": true, "codeDescriptionSupport": true, "dataSupport": true, "tagSupport": { "valueSet": [1, 2] } },
            "rename": { "prepareSupport": true }
          },
          "workspace": { "applyEdit": true, "workspaceFolders": true, "workspaceEdit": { "documentChanges": true, "resourceOperations": ["create", "rename"] } },
          "window": { "showDocument": { "support": true }, "workDoneProgress": true }
        }
        """;

    public static async Task<Desk> StartAsync(
        string capabilities = Able,
        JsonNode? settings = null,
        bool inWorkspace = false,
        Func<string, JsonNode?, JsonNode?>? answer = null,
        Func<IPrintedDocumentReader>? documents = null,
        [CallerMemberName] string name = ""
    )
    {
        string folder = Directory.CreateTempSubdirectory("relist-desk-").FullName;
        Session session = Session.Raw(name: name, documents: documents);
        session.Client.Answer = answer ?? ((_, _) => null);
        JsonObject parameters = Session.Initialize(capabilities);
        if (inWorkspace)
        {
            parameters["workspaceFolders"] = new JsonArray(
                new JsonObject { ["uri"] = DocumentUri.FromPath(folder).Text, ["name"] = "desk" }
            );
        }

        if (settings is not null)
        {
            parameters["initializationOptions"] = settings;
        }

        JsonNode? offer = await session.Client.RequestAsync("initialize", parameters);
        session.Client.Notify("initialized", new JsonObject());
        return new Desk(session, folder) { Offer = offer! };
    }

    public JsonNode Offer { get; private init; } = null!;

    /// <summary>The address of a file in the folder.</summary>
    public string UriOf(string name) => DocumentUri.FromPath(Path.Combine(Folder, name)).Text;

    /// <summary>Writes a file into the folder.</summary>
    public string Write(string name, string text)
    {
        string path = Path.Combine(Folder, name);
        Directory.CreateDirectory(Path.GetDirectoryName(path)!);
        File.WriteAllText(path, text);
        return path;
    }

    /// <summary>Opens a source; gives the place of the mark in it.</summary>
    public (int Line, int Character) Open(string name, string marked, int version = 1)
    {
        (string text, int line, int character) = Unmark(marked);
        Session.Open(name.Contains(':', StringComparison.Ordinal) ? name : UriOf(name), text, version);
        return (line, character);
    }

    /// <summary>Asks at the mark of a source that is opened for it.</summary>
    public Task<JsonNode?> AskAsync(string method, string marked, string name = "main.asm", JsonObject? more = null)
    {
        (int line, int character) = Open(name, marked);
        return AtAsync(method, name, line, character, more);
    }

    /// <summary>Asks at a place of an open document.</summary>
    public Task<JsonNode?> AtAsync(string method, string name, int line, int character, JsonObject? more = null)
    {
        JsonObject parameters = ProbeFeatures.At(
            name.Contains(':', StringComparison.Ordinal) ? name : UriOf(name),
            line,
            character
        );
        foreach ((string key, JsonNode? value) in more ?? [])
        {
            parameters[key] = value?.DeepClone();
        }

        return Session.Client.RequestAsync(method, parameters);
    }

    /// <summary>Asks about a whole document.</summary>
    public Task<JsonNode?> OfAsync(string method, string name, JsonObject? more = null)
    {
        var parameters = new JsonObject
        {
            ["textDocument"] = new JsonObject
            {
                ["uri"] = name.Contains(':', StringComparison.Ordinal) ? name : UriOf(name),
            },
        };
        foreach ((string key, JsonNode? value) in more ?? [])
        {
            parameters[key] = value?.DeepClone();
        }

        return Session.Client.RequestAsync(method, parameters);
    }

    /// <summary>The problems reported last for a version of a document, as <c>line:code</c>, lines from 1.</summary>
    public async Task<string[]> ProblemsAsync(string name, int? version = 1)
    {
        string uri = name.Contains(':', StringComparison.Ordinal) ? name : UriOf(name);
        JsonObject message = await Session.Client.WaitForAsync(
            "textDocument/publishDiagnostics",
            reported => (string?)reported["uri"] == uri && (int?)reported["version"] == version
        );
        return Codes(message["params"]!["diagnostics"]!);
    }

    public static string[] Codes(JsonNode diagnostics) =>
        [
            .. diagnostics
                .AsArray()
                .Select(reported => $"{(int)reported!["range"]!["start"]!["line"]! + 1}:{reported["code"]}"),
        ];

    /// <summary>A list of places as <c>file:line:column</c>, counted from 1.</summary>
    public static string[] Places(JsonNode? locations) =>
        [
            .. locations!
                .AsArray()
                .Select(place =>
                    $"{((string)place!["uri"]!).Split('/')[^1]}:{(int)place["range"]!["start"]!["line"]! + 1}:{(int)place["range"]!["start"]!["character"]! + 1}"
                ),
        ];

    /// <summary>A source without its mark, and where that was.</summary>
    public static (string Text, int Line, int Character) Unmark(string marked)
    {
        int at = marked.IndexOf("{|}", StringComparison.Ordinal);
        if (at < 0)
        {
            return (marked, 0, 0);
        }

        string before = marked[..at];
        return (marked.Remove(at, 3), before.Count(c => c == '\n'), at - (before.LastIndexOf('\n') + 1));
    }

    public async ValueTask DisposeAsync()
    {
        await Session.DisposeAsync();
        Directory.Delete(Folder, recursive: true);
    }
}
