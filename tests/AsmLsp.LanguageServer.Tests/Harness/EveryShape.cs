using System.Text.Json;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features;
using AsmLsp.LanguageServer.Protocol;

namespace AsmLsp.LanguageServer.Tests.Harness;

/// <summary>
/// Answers every request of the protocol in use with every property filled in and offers every capability, so that the check of the recorded
/// messages sees each record whole.
/// </summary>
internal sealed class EveryShape : IFeature
{
    private const string Uri = "file:///shape.asm";
    private static readonly LspRange Range = new(new(0, 1), new(0, 4));
    private static readonly Location Place = new(Uri, Range);
    private static readonly LspTextEdit Edit = new(Range, "nop");
    private static readonly MarkupContent Markup = new(MarkupKind.Markdown, "**x**");
    private static readonly Command Run = new("Build", "relist.build")
    {
        Arguments = [LspJson.Element("a"), LspJson.Element(new[] { 1 })],
    };
    private static readonly JsonElement Data = LspJson.Element(new[] { 1, 2 });

    public static Diagnostic FullDiagnostic { get; } =
        new(Range, "MOVWF is an instruction, so it cannot start in column 1.")
        {
            Severity = DiagnosticSeverity.Warning,
            Code = "operation-not-indented",
            CodeDescription = new("https://example.org/x"),
            Source = "relist",
            Tags = [DiagnosticTag.Unnecessary],
            RelatedInformation = [new(Place, "here")],
            Data = Data,
        };

    private static readonly WorkspaceEdit Changes = new() { Changes = new() { [Uri] = [Edit] } };

    private static readonly WorkspaceEdit DocumentChanges = new()
    {
        DocumentChanges =
        [
            new TextDocumentEdit(new(Uri, 3), [Edit]),
            new TextDocumentEdit(new(Uri, null), []),
            new CreateFile("file:///new.asm")
            {
                Options = new() { Overwrite = true, IgnoreIfExists = false },
            },
        ],
    };

    private static readonly CallHierarchyItem Item = new("delay", SymbolKind.Function, Uri, Range, Range)
    {
        Detail = "d",
        Data = Data,
    };

    public void Register(FeatureRegistry registry)
    {
        registry.Capability((_, client) => Everything(client));
        registry.Request<TextDocumentPositionParams, Hover?>(
            HoverHandler.Method,
            (_, at, _) =>
                at.Position.Line switch
                {
                    0 => new Hover(Markup) { Range = Range },
                    1 => new Hover("plain"),
                    _ => null,
                }
        );
        registry.Request<CompletionParams, CompletionList>(
            CompletionHandler.Method,
            (_, _, _) => new(true, [Full(), new("bare")])
        );
        registry.Request<CompletionItem, CompletionItem>(
            CompletionResolveHandler.Method,
            (_, item, _) => item with { Documentation = "resolved" }
        );
        registry.Request<SignatureHelpParams, SignatureHelp?>(
            SignatureHelpHandler.Method,
            (_, _, _) =>
                new([
                    new("bsf f,b")
                    {
                        Documentation = Markup,
                        ActiveParameter = 1,
                        Parameters =
                        [
                            new("f") { Documentation = "text" },
                            new(new[] { 6, 7 }) { Documentation = Markup },
                        ],
                    },
                ])
                {
                    ActiveSignature = 0,
                    ActiveParameter = 1,
                }
        );
        registry.Request<TextDocumentPositionParams, Location[]>(DefinitionHandler.Method, (_, _, _) => [Place]);
        registry.Request<TextDocumentPositionParams, Location[]>(DeclarationHandler.Method, (_, _, _) => [Place]);
        registry.Request<ReferenceParams, Location[]>(
            ReferencesHandler.Method,
            (_, asked, _) => asked.Context.IncludeDeclaration ? [Place, Place] : [Place]
        );
        registry.Request<TextDocumentPositionParams, DocumentHighlight[]>(
            DocumentHighlightHandler.Method,
            (_, _, _) => [new(Range) { Kind = DocumentHighlightKind.Write }, new(Range)]
        );
        registry.Request<TextDocumentParams, DocumentSymbolEntry[]>(
            DocumentSymbolHandler.Method,
            (request, _, _) =>
                request.Profile.HierarchicalSymbols
                    ?
                    [
                        new DocumentSymbol("start", SymbolKind.Function, Range, Range)
                        {
                            Detail = "d",
                            Children = [new("inner", SymbolKind.Constant, Range, Range)],
                        },
                    ]
                    : [new SymbolInformation("start", SymbolKind.Function, Place) { ContainerName = "c" }]
        );
        registry.Request<WorkspaceSymbolParams, SymbolInformation[]>(
            WorkspaceSymbolHandler.Method,
            (_, _, _) => [new("start", SymbolKind.Function, Place)]
        );
        registry.Request<TextDocumentPositionParams, PrepareRenameResult?>(
            PrepareRenameHandler.Method,
            (_, _, _) => new(Range, "start")
        );
        registry.Request<RenameParams, WorkspaceEdit?>(
            RenameHandler.Method,
            (request, _, _) => request.Profile.DocumentChanges ? DocumentChanges : Changes
        );
        registry.Request<CodeActionParams, CommandOrCodeAction[]>(
            CodeActionHandler.Method,
            (_, _, _) =>
                [
                    new CodeAction("Indent it")
                    {
                        Kind = CodeActionKind.QuickFix,
                        Diagnostics = [FullDiagnostic],
                        IsPreferred = true,
                        Edit = Changes,
                        Command = Run,
                        Data = Data,
                    },
                    new CodeAction("Not now") { Disabled = new("because") },
                    Run,
                ]
        );
        registry.Request<CodeAction, CodeAction>(
            CodeActionResolveHandler.Method,
            (_, action, _) => action with { Edit = DocumentChanges }
        );
        registry.Request<TextDocumentParams, CodeLens[]>(
            CodeLensHandler.Method,
            (_, _, _) => [new(Range) { Command = Run, Data = Data }]
        );
        registry.Request<InlayHintParams, InlayHint[]>(
            InlayHintHandler.Method,
            (_, _, _) =>
                [
                    new(new(0, 4), "2 cycles")
                    {
                        Kind = InlayHintKind.Type,
                        TextEdits = [Edit],
                        Tooltip = "t",
                        PaddingLeft = true,
                        PaddingRight = false,
                        Data = Data,
                    },
                    new(
                        new(0, 4),
                        new InlayHintLabelPart[]
                        {
                            new("part")
                            {
                                Tooltip = Markup,
                                Location = Place,
                                Command = Run,
                            },
                        }
                    )
                    {
                        Tooltip = Markup,
                    },
                ]
        );
        registry.Request<DocumentFormattingParams, LspTextEdit[]>(FormattingHandler.Method, (_, _, _) => [Edit]);
        registry.Request<DocumentRangeFormattingParams, LspTextEdit[]>(
            RangeFormattingHandler.Method,
            (_, _, _) => [Edit]
        );
        registry.Request<DocumentOnTypeFormattingParams, LspTextEdit[]>(
            OnTypeFormattingHandler.Method,
            (_, typed, _) => [Edit with { NewText = typed.Ch }]
        );
        registry.Request<TextDocumentParams, FoldingRange[]>(
            FoldingRangeHandler.Method,
            (_, _, _) =>
                [
                    new(0, 3)
                    {
                        StartCharacter = 1,
                        EndCharacter = 2,
                        Kind = FoldingRangeKind.Comment,
                        CollapsedText = "…",
                    },
                    new(1, 2),
                ]
        );
        registry.Request<SelectionRangeParams, SelectionRange[]>(
            SelectionRangeHandler.Method,
            (_, _, _) => [new(Range) { Parent = new(Range) }]
        );
        registry.Request<TextDocumentPositionParams, LinkedEditingRanges?>(
            LinkedEditingRangeHandler.Method,
            (_, _, _) => new([Range]) { WordPattern = @"\w+" }
        );
        registry.Request<TextDocumentParams, DocumentLink[]>(
            DocumentLinkHandler.Method,
            (_, _, _) => [new(Range) { Target = "file:///lcd.inc", Tooltip = "t" }]
        );
        registry.Request<TextDocumentParams, SemanticTokens>(
            SemanticTokensHandler.SemanticTokensFullMethod,
            (_, _, _) => new([0, 1, 3, 0, 1]) { ResultId = "1" }
        );
        registry.Request<SemanticTokensDeltaParams, SemanticTokensResult>(
            SemanticTokensHandler.SemanticTokensDeltaMethod,
            (_, asked, _) =>
                asked.PreviousResultId == "1"
                    ? new SemanticTokensDelta([new(0, 5) { Data = [0, 1, 3, 0, 1] }, new(5, 0)]) { ResultId = "2" }
                    : new SemanticTokens([]) { ResultId = "2" }
        );
        registry.Request<SemanticTokensRangeParams, SemanticTokens>(
            SemanticTokensHandler.SemanticTokensRangeMethod,
            (_, _, _) => new([])
        );
        registry.Request<TextDocumentPositionParams, CallHierarchyItem[]>(
            CallHierarchyHandler.PrepareCallHierarchyMethod,
            (_, _, _) => [Item]
        );
        registry.Request<CallHierarchyItemParams, CallHierarchyIncomingCall[]>(
            CallHierarchyHandler.IncomingCallsMethod,
            (_, asked, _) => [new(asked.Item, [Range])]
        );
        registry.Request<CallHierarchyItemParams, CallHierarchyOutgoingCall[]>(
            CallHierarchyHandler.OutgoingCallsMethod,
            (_, asked, _) => [new(asked.Item, [Range])]
        );
        registry.Request<WillSaveTextDocumentParams, LspTextEdit[]>(
            WillSaveWaitUntilHandler.Method,
            (_, _, _) => [Edit]
        );
        registry.Request<RenameFilesParams, WorkspaceEdit?>(WillRenameFilesHandler.Method, (_, _, _) => Changes);
        registry.Request<DocumentDiagnosticParams, DocumentDiagnosticReport>(
            DocumentDiagnosticHandler.Method,
            (_, asked, _) =>
                asked.PreviousResultId is null
                    ? new(DiagnosticReportKind.Full)
                    {
                        ResultId = "1",
                        Items = [FullDiagnostic],
                        RelatedDocuments = new()
                        {
                            ["file:///lcd.inc"] = new(DiagnosticReportKind.Full) { Items = [] },
                        },
                    }
                    : new(DiagnosticReportKind.Unchanged) { ResultId = "1" }
        );
        registry.Request<WorkspaceDiagnosticParams, WorkspaceDiagnosticReport>(
            WorkspaceDiagnosticHandler.Method,
            (_, _, _) =>
                new([
                    new(DiagnosticReportKind.Full, Uri, null) { ResultId = "1", Items = [FullDiagnostic] },
                    new(DiagnosticReportKind.Unchanged, Uri, 3) { ResultId = "1" },
                ])
        );
        registry.RequestAsync<ExecuteCommandParams, JsonElement?>(ExecuteCommandHandler.Method, CallClientAsync);
    }

    /// <summary>Runs everything that the server may ask or say the client.</summary>
    private static async Task<JsonElement?> CallClientAsync(
        RequestContext request,
        ExecuteCommandParams parameters,
        CancellationToken cancellation
    )
    {
        Client client = request.Server.Client;
        client.ShowMessage(MessageType.Error, "shown");
        client.LogMessage(MessageType.Log, "logged");
        client.LogTrace("traced", "with details");
        client.PublishDiagnostics(new(Uri, [FullDiagnostic]) { Version = 1 });
        string? button = await client.AskPersonAsync(MessageType.Info, "Build it?", ["Yes", "No"], cancellation);
        bool shown = await client.ShowDocumentAsync(
            new(Uri)
            {
                External = false,
                TakeFocus = true,
                Selection = Range,
            },
            cancellation
        );
        ApplyWorkspaceEditResult? applied = await client.ApplyEditAsync(
            "Indent",
            request.Profile.DocumentChanges ? DocumentChanges : Changes,
            cancellation
        );
        await client.RefreshAsync(cancellation);
        using (
            WorkProgress? progress = await client.BeginProgressAsync(
                parameters.WorkDoneToken,
                "Building",
                true,
                cancellation
            )
        )
        {
            progress?.Report("half", 50);
            progress?.Finish("done");
        }

        return LspJson.Element($"{button ?? "none"} {shown} {applied?.Applied.ToString() ?? "none"}");
    }

    private static CompletionItem Full() =>
        new("movlw")
        {
            LabelDetails = new() { Detail = " k", Description = "W" },
            Kind = CompletionItemKind.Keyword,
            Tags = [1],
            Detail = "d",
            Documentation = Markup,
            Preselect = true,
            SortText = "1",
            FilterText = "movlw",
            InsertText = "movlw ${1:k}",
            InsertTextFormat = InsertTextFormat.Snippet,
            TextEdit = Edit,
            AdditionalTextEdits = [Edit],
            CommitCharacters = ["\t"],
            Command = Run,
            Data = Data,
        };

    private static ServerCapabilities Everything(ClientProfile client) =>
        new()
        {
            PositionEncoding = client.EncodingName,
            TextDocumentSync = new()
            {
                OpenClose = true,
                Change = TextDocumentSyncKind.Full,
                WillSaveWaitUntil = true,
                Save = true,
            },
            CompletionProvider = new() { TriggerCharacters = ["#"], ResolveProvider = true },
            HoverProvider = true,
            SignatureHelpProvider = new() { TriggerCharacters = [" "], RetriggerCharacters = [","] },
            DeclarationProvider = true,
            DefinitionProvider = true,
            ReferencesProvider = true,
            DocumentHighlightProvider = true,
            DocumentSymbolProvider = true,
            CodeActionProvider = new CodeActionOptions
            {
                CodeActionKinds = [CodeActionKind.QuickFix],
                ResolveProvider = true,
            },
            CodeLensProvider = new() { ResolveProvider = false },
            DocumentLinkProvider = new() { ResolveProvider = false },
            DocumentFormattingProvider = true,
            DocumentRangeFormattingProvider = true,
            DocumentOnTypeFormattingProvider = new("\n") { MoreTriggerCharacter = [" "] },
            RenameProvider = new RenameOptions { PrepareProvider = true },
            FoldingRangeProvider = true,
            ExecuteCommandProvider = new(["relist.build"]),
            SelectionRangeProvider = true,
            LinkedEditingRangeProvider = true,
            CallHierarchyProvider = true,
            SemanticTokensProvider = new(new(["keyword"], ["readonly"]))
            {
                Range = true,
                Full = new SemanticTokensFullOptions(Delta: true),
            },
            InlayHintProvider = new InlayHintOptions { ResolveProvider = false },
            DiagnosticProvider = new(InterFileDependencies: true, WorkspaceDiagnostics: true) { Identifier = "relist" },
            WorkspaceSymbolProvider = new WorkspaceSymbolOptions { ResolveProvider = false },
            Workspace = new()
            {
                WorkspaceFolders = new(true, true),
                FileOperations = new()
                {
                    WillRename = new([new(new("**/*.inc") { Matches = "file" }) { Scheme = "file" }]),
                },
            },
        };
}
