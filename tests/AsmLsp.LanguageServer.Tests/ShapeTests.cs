using System.Collections.Concurrent;
using System.Text.Json.Nodes;
using AsmLsp.LanguageServer.Features;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Tests.Harness;

namespace AsmLsp.LanguageServer.Tests;

/// <summary>
/// Sends every record of the protocol over the wire in full. What is asserted here is that it comes through; that it has the published
/// shape is checked on the recording by tests/conformance.
/// </summary>
public sealed class ShapeTests
{
    private const string Uri = "file:///shape.asm";

    /// <summary>A client that can do all that the server asks of one.</summary>
    private const string Rich = """
        {
          "general": { "positionEncodings": ["utf-8", "utf-16"] },
          "textDocument": {
            "documentSymbol": { "hierarchicalDocumentSymbolSupport": true },
            "hover": { "contentFormat": ["markdown", "plaintext"] },
            "diagnostic": { "dynamicRegistration": false }
          },
          "workspace": {
            "applyEdit": true, "configuration": true, "workspaceFolders": true,
            "workspaceEdit": { "documentChanges": true, "resourceOperations": ["create", "rename", "delete"] },
            "didChangeConfiguration": { "dynamicRegistration": true }, "didChangeWatchedFiles": { "dynamicRegistration": true },
            "codeLens": { "refreshSupport": true }, "inlayHint": { "refreshSupport": true },
            "semanticTokens": { "refreshSupport": true }, "diagnostics": { "refreshSupport": true }
          },
          "window": { "workDoneProgress": true, "showDocument": { "support": true }, "showMessage": { } }
        }
        """;

    private static readonly IReadOnlyList<IFeature> Features =
    [
        new InitializedHandler(),
        new DidChangeConfigurationHandler(),
        new DidChangeWatchedFilesHandler(),
        new SetTraceHandler(),
        new EveryShape(),
    ];

    public static TheoryData<string, string> Requests =>
        new()
        {
            {
                CompletionHandler.Method,
                """{"textDocument":{"uri":"file:///shape.asm"},"position":{"line":0,"character":0},"context":{"triggerKind":2,"triggerCharacter":"#"}}"""
            },
            {
                CompletionResolveHandler.Method,
                """{"label":"x","documentation":"was","textEdit":{"range":{"start":{"line":0,"character":0},"end":{"line":0,"character":1}},"newText":"y"}}"""
            },
            {
                SignatureHelpHandler.Method,
                """{"textDocument":{"uri":"file:///shape.asm"},"position":{"line":0,"character":0},"context":{"triggerKind":3,"isRetrigger":false}}"""
            },
            { DefinitionHandler.Method, Position() },
            { DeclarationHandler.Method, Position() },
            {
                ReferencesHandler.Method,
                """{"textDocument":{"uri":"file:///shape.asm"},"position":{"line":0,"character":0},"context":{"includeDeclaration":true}}"""
            },
            { DocumentHighlightHandler.Method, Position() },
            { DocumentSymbolHandler.Method, Document() },
            { WorkspaceSymbolHandler.Method, """{"query":"st"}""" },
            { PrepareRenameHandler.Method, Position() },
            {
                RenameHandler.Method,
                """{"textDocument":{"uri":"file:///shape.asm"},"position":{"line":0,"character":0},"newName":"begin"}"""
            },
            {
                CodeActionHandler.Method,
                """{"textDocument":{"uri":"file:///shape.asm"},"range":{"start":{"line":0,"character":0},"end":{"line":0,"character":1}},"context":{"diagnostics":[{"range":{"start":{"line":0,"character":0},"end":{"line":0,"character":1}},"message":"m","code":5}],"only":["quickfix"],"triggerKind":1}}"""
            },
            {
                CodeActionResolveHandler.Method,
                """{"title":"Indent it","kind":"quickfix","data":{"any":[1,"thing"]}}"""
            },
            { CodeLensHandler.Method, Document() },
            { InlayHintHandler.Method, Range() },
            {
                FormattingHandler.Method,
                """{"textDocument":{"uri":"file:///shape.asm"},"options":{"tabSize":8,"insertSpaces":false,"trimTrailingWhitespace":true,"ownKey":"of the editor"}}"""
            },
            {
                RangeFormattingHandler.Method,
                """{"textDocument":{"uri":"file:///shape.asm"},"range":{"start":{"line":0,"character":0},"end":{"line":0,"character":1}},"options":{"tabSize":8,"insertSpaces":true}}"""
            },
            {
                OnTypeFormattingHandler.Method,
                """{"textDocument":{"uri":"file:///shape.asm"},"position":{"line":0,"character":0},"ch":"\n","options":{"tabSize":8,"insertSpaces":true}}"""
            },
            { FoldingRangeHandler.Method, Document() },
            {
                SelectionRangeHandler.Method,
                """{"textDocument":{"uri":"file:///shape.asm"},"positions":[{"line":0,"character":0}]}"""
            },
            { LinkedEditingRangeHandler.Method, Position() },
            { DocumentLinkHandler.Method, Document() },
            { SemanticTokensHandler.SemanticTokensFullMethod, Document() },
            {
                SemanticTokensHandler.SemanticTokensDeltaMethod,
                """{"textDocument":{"uri":"file:///shape.asm"},"previousResultId":"1"}"""
            },
            {
                SemanticTokensHandler.SemanticTokensDeltaMethod,
                """{"textDocument":{"uri":"file:///shape.asm"},"previousResultId":"0"}"""
            },
            { SemanticTokensHandler.SemanticTokensRangeMethod, Range() },
            { CallHierarchyHandler.PrepareCallHierarchyMethod, Position() },
            { CallHierarchyHandler.IncomingCallsMethod, Item() },
            { CallHierarchyHandler.OutgoingCallsMethod, Item() },
            { WillSaveWaitUntilHandler.Method, """{"textDocument":{"uri":"file:///shape.asm"},"reason":1}""" },
            { WillRenameFilesHandler.Method, """{"files":[{"oldUri":"file:///a.inc","newUri":"file:///b.inc"}]}""" },
            { DocumentDiagnosticHandler.Method, Document() },
            {
                DocumentDiagnosticHandler.Method,
                """{"textDocument":{"uri":"file:///shape.asm"},"previousResultId":"1","identifier":"relist"}"""
            },
            {
                WorkspaceDiagnosticHandler.Method,
                """{"previousResultIds":[{"uri":"file:///shape.asm","value":"1"}]}"""
            },
            { HoverHandler.Method, Position() },
            { HoverHandler.Method, Position().Replace("\"line\":0", "\"line\":1", StringComparison.Ordinal) },
        };

    [Theory]
    [MemberData(nameof(Requests))]
    public async Task Every_result_comes_through_in_full(string method, string parameters)
    {
        await using Session rich = await Session.StartAsync(Rich, Features, answer: AnswerAll);
        Assert.NotNull(await rich.Client.RequestAsync(method, JsonNode.Parse(parameters)));
        await using Session plain = await Session.StartAsync("{}", Features);
        Assert.NotNull(await plain.Client.RequestAsync(method, JsonNode.Parse(parameters)));
    }

    [Fact]
    public async Task Client_that_can_everything_is_asked_everything()
    {
        var asked = new ConcurrentBag<string>();
        await using Session session = await Session.StartAsync(
            Rich,
            Features,
            answer: (method, parameters) =>
            {
                asked.Add(method);
                return AnswerAll(method, parameters);
            }
        );
        session.Client.Notify("$/setTrace", new JsonObject { ["value"] = "verbose" });
        JsonNode? result = await session.Client.RequestAsync(
            ExecuteCommandHandler.Method,
            new JsonObject { ["command"] = "relist.build", ["arguments"] = new JsonArray(1, "x") }
        );
        Assert.Equal("Yes True True", (string)result!);
        foreach (
            string method in (string[])
                [
                    Methods.RegisterCapability,
                    Methods.Configuration,
                    Methods.ShowMessageRequest,
                    Methods.ShowDocument,
                    Methods.ApplyEdit,
                    Methods.WorkDoneProgressCreate,
                    Methods.CodeLensRefresh,
                    Methods.InlayHintRefresh,
                    Methods.SemanticTokensRefresh,
                    Methods.DiagnosticRefresh,
                ]
        )
        {
            Assert.Contains(method, asked);
        }

        await session.Client.WaitForAsync(Methods.Progress, value => (string?)value["value"]!["kind"] == "end");
        await session.Client.WaitForAsync(Methods.LogTrace, value => (string?)value["verbose"] == "with details");
        await session.Client.WaitForAsync(Methods.PublishDiagnostics);
        Assert.Equal("utf-8", (string)session.Offer!["capabilities"]!["positionEncoding"]!);
    }

    [Fact]
    public async Task Client_that_declares_nothing_is_asked_nothing()
    {
        await using Session session = await Session.StartAsync("{}", Features);
        JsonNode? result = await session.Client.RequestAsync(
            ExecuteCommandHandler.Method,
            new JsonObject { ["command"] = "relist.build" }
        );
        Assert.Equal("none False none", (string)result!);
        Assert.DoesNotContain(session.Client.FromServer, message => message.ContainsKey("id"));
        Assert.Null(session.Offer!["capabilities"]!["positionEncoding"]);
    }

    [Fact]
    public async Task Progress_goes_to_the_token_of_the_request_where_one_came()
    {
        await using Session session = await Session.StartAsync("{}", Features);
        await session.Client.RequestAsync(
            ExecuteCommandHandler.Method,
            new JsonObject { ["command"] = "relist.build", ["workDoneToken"] = 17 }
        );
        JsonObject begin = await session.Client.WaitForAsync(
            Methods.Progress,
            value => (string?)value["value"]!["kind"] == "begin"
        );
        Assert.Equal(17, (int)begin["params"]!["token"]!);
    }

    internal static JsonNode? AnswerAll(string method, JsonNode? parameters) =>
        method switch
        {
            Methods.Configuration => new JsonArray(new JsonObject()),
            Methods.ShowMessageRequest => new JsonObject { ["title"] = "Yes" },
            Methods.ShowDocument => new JsonObject { ["success"] = true },
            Methods.ApplyEdit => new JsonObject { ["applied"] = true },
            _ => null,
        };

    private static string Document() => """{"textDocument":{"uri":"file:///shape.asm"}}""";

    private static string Position() =>
        """{"textDocument":{"uri":"file:///shape.asm"},"position":{"line":0,"character":0}}""";

    private static string Range() =>
        """{"textDocument":{"uri":"file:///shape.asm"},"range":{"start":{"line":0,"character":0},"end":{"line":0,"character":1}}}""";

    private static string Item() =>
        """{"item":{"name":"delay","kind":12,"uri":"file:///shape.asm","range":{"start":{"line":0,"character":0},"end":{"line":0,"character":1}},"selectionRange":{"start":{"line":0,"character":0},"end":{"line":0,"character":1}}}}""";
}
