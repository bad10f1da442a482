using System.Runtime.CompilerServices;
using System.Text.Json.Nodes;
using AsmLsp.Core.Printed;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features;
using Nerdbank.Streams;

namespace AsmLsp.LanguageServer.Tests.Harness;

/// <summary>A server in this process and a client that talks to it over a pair of streams.</summary>
internal sealed class Session : IAsyncDisposable
{
    private readonly StringWriter log = new();
    private readonly Stream server;

    private Session(string name, IReadOnlyList<IFeature>? features, Func<IPrintedDocumentReader>? documents = null)
    {
        (server, Stream client) = FullDuplexStream.CreatePair();
        var options = new ServerOptions(server, server, TextWriter.Synchronized(log))
        {
            Features = features ?? FeatureList.All,
            Documents = documents is null ? null : _ => documents(),
        };
        Running = LspServer.RunAsync(options);
        Client = new TestClient(client, client, name);
    }

    public TestClient Client { get; }

    /// <summary>The exit code, once the session is over.</summary>
    public Task<int> Running { get; }

    /// <summary>What the server wrote to the error stream.</summary>
    public string Log => log.ToString();

    /// <summary>The answer to <c>initialize</c>.</summary>
    public JsonNode? Offer { get; private set; }

    /// <summary>A session before <c>initialize</c>.</summary>
    public static Session Raw(
        IReadOnlyList<IFeature>? features = null,
        [CallerMemberName] string name = "",
        Func<IPrintedDocumentReader>? documents = null
    ) => new(name, features, documents);

    /// <summary>A session that is ready for work.</summary>
    public static async Task<Session> StartAsync(
        string capabilities = "{}",
        IReadOnlyList<IFeature>? features = null,
        JsonNode? initializationOptions = null,
        Func<string, JsonNode?, JsonNode?>? answer = null,
        bool recordsAnswers = true,
        [CallerMemberName] string name = ""
    )
    {
        var session = new Session(name, features);
        session.Client.Answer = answer;
        session.Client.RecordsAnswers = recordsAnswers;
        JsonObject parameters = Initialize(capabilities);
        if (initializationOptions is not null)
        {
            parameters["initializationOptions"] = initializationOptions;
        }

        session.Offer = await session.Client.RequestAsync("initialize", parameters);
        session.Client.Notify("initialized", new JsonObject());
        return session;
    }

    /// <summary>The least that <c>initialize</c> may carry, with given capabilities.</summary>
    public static JsonObject Initialize(string capabilities = "{}") =>
        new()
        {
            ["processId"] = null,
            ["rootUri"] = null,
            ["capabilities"] = JsonNode.Parse(capabilities),
        };

    public void Open(string uri, string text, int version = 1, string language = "asm") =>
        Client.Notify(
            "textDocument/didOpen",
            new JsonObject
            {
                ["textDocument"] = new JsonObject
                {
                    ["uri"] = uri,
                    ["languageId"] = language,
                    ["version"] = version,
                    ["text"] = text,
                },
            }
        );

    public void Change(string uri, int version, params JsonNode[] changes) =>
        Client.Notify(
            "textDocument/didChange",
            new JsonObject
            {
                ["textDocument"] = new JsonObject { ["uri"] = uri, ["version"] = version },
                ["contentChanges"] = new JsonArray(changes),
            }
        );

    public void Close(string uri) =>
        Client.Notify("textDocument/didClose", new JsonObject { ["textDocument"] = new JsonObject { ["uri"] = uri } });

    /// <summary>A change of a stretch.</summary>
    public static JsonObject Edit(long line, long character, long endLine, long endCharacter, string text) =>
        new()
        {
            ["range"] = new JsonObject
            {
                ["start"] = new JsonObject { ["line"] = line, ["character"] = character },
                ["end"] = new JsonObject { ["line"] = endLine, ["character"] = endCharacter },
            },
            ["text"] = text,
        };

    /// <summary>A change of everything.</summary>
    public static JsonObject Whole(string text) => new() { ["text"] = text };

    public async ValueTask DisposeAsync()
    {
        await Client.DisposeAsync();
        await Running.WaitAsync(TestClient.Deadline);
        await server.DisposeAsync();
    }
}
