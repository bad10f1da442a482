namespace AsmLsp.LanguageServer.Features;

/// <summary>Every feature, in the order in which they are registered; a test finds one that is missing here.</summary>
internal static class FeatureList
{
    public static IReadOnlyList<IFeature> All { get; } =
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
        new PublishDiagnosticsHandler(),
        new DocumentDiagnosticHandler(),
        new WorkspaceDiagnosticHandler(),
        new HoverHandler(),
        new DefinitionHandler(),
        new DeclarationHandler(),
        new ReferencesHandler(),
        new DocumentHighlightHandler(),
        new DocumentSymbolHandler(),
        new CompletionHandler(),
        new CompletionResolveHandler(),
        new SignatureHelpHandler(),
        new FoldingRangeHandler(),
        new SelectionRangeHandler(),
        new DocumentLinkHandler(),
        new WorkspaceSymbolHandler(),
        new ExecuteCommandHandler(),
        new BuildOnSaveHandler(),
    ];
}
