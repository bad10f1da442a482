using System.Text.Json.Nodes;
using AsmLsp.LanguageServer.Features;
using AsmLsp.LanguageServer.Protocol;

namespace AsmLsp.LanguageServer.Tests.Harness;

/// <summary>Real methods answered with what a test wants to see: the text the server holds, or an answer that waits.</summary>
internal static class ProbeFeatures
{
    /// <summary>What keeps the documents and settings, and answers nothing.</summary>
    public static IReadOnlyList<IFeature> Spine { get; } =
    [
        new InitializedHandler(),
        new DidOpenHandler(),
        new DidChangeHandler(),
        new DidSaveHandler(),
        new DidCloseHandler(),
        new DidChangeConfigurationHandler(),
        new DidChangeWorkspaceFoldersHandler(),
        new DidChangeWatchedFilesHandler(),
        new SetTraceHandler(),
        new WorkDoneProgressCancelHandler(),
    ];

    /// <summary>Hover answers with the whole text of the snapshot and its version.</summary>
    public static IReadOnlyList<IFeature> WithText { get; } = [.. Spine, new TextProbe()];

    /// <summary>What a hover of <see cref="WithText"/> answers: version, a colon, text.</summary>
    public static async Task<string> TextAsync(this Session session, string uri) =>
        (string)(await session.Client.RequestAsync("textDocument/hover", At(uri)))!["contents"]!;

    public static JsonObject At(string uri, int line = 0, int character = 0) =>
        new()
        {
            ["textDocument"] = new JsonObject { ["uri"] = uri },
            ["position"] = new JsonObject { ["line"] = line, ["character"] = character },
        };

    private sealed class TextProbe : IFeature
    {
        public void Register(FeatureRegistry registry) =>
            registry.Request<TextDocumentPositionParams, Hover?>(
                HoverHandler.Method,
                (request, parameters, _) =>
                    request.Find(parameters.TextDocument) is { } document
                        ? new Hover($"{document.Version}:{document.Text}")
                        : null
            );
    }
}
