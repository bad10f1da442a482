namespace AsmLsp.LanguageServer.Protocol;

/// <summary>What the server offers; each feature adds its own part (see <c>FeatureRegistry.Capability</c>).</summary>
internal sealed record ServerCapabilities
{
    public string? PositionEncoding { get; init; }
    public TextDocumentSyncOptions? TextDocumentSync { get; init; }
    public CompletionOptions? CompletionProvider { get; init; }
    public bool? HoverProvider { get; init; }
    public SignatureHelpOptions? SignatureHelpProvider { get; init; }
    public bool? DeclarationProvider { get; init; }
    public bool? DefinitionProvider { get; init; }
    public bool? ReferencesProvider { get; init; }
    public bool? DocumentHighlightProvider { get; init; }
    public bool? DocumentSymbolProvider { get; init; }
    public BoolOr<CodeActionOptions>? CodeActionProvider { get; init; }
    public CodeLensOptions? CodeLensProvider { get; init; }
    public DocumentLinkOptions? DocumentLinkProvider { get; init; }
    public bool? DocumentFormattingProvider { get; init; }
    public bool? DocumentRangeFormattingProvider { get; init; }
    public DocumentOnTypeFormattingOptions? DocumentOnTypeFormattingProvider { get; init; }
    public BoolOr<RenameOptions>? RenameProvider { get; init; }
    public bool? FoldingRangeProvider { get; init; }
    public ExecuteCommandOptions? ExecuteCommandProvider { get; init; }
    public bool? SelectionRangeProvider { get; init; }
    public bool? LinkedEditingRangeProvider { get; init; }
    public bool? CallHierarchyProvider { get; init; }
    public SemanticTokensOptions? SemanticTokensProvider { get; init; }
    public BoolOr<InlayHintOptions>? InlayHintProvider { get; init; }
    public DiagnosticOptions? DiagnosticProvider { get; init; }
    public BoolOr<WorkspaceSymbolOptions>? WorkspaceSymbolProvider { get; init; }
    public WorkspaceServerCapabilities? Workspace { get; init; }
}

internal sealed record WorkspaceServerCapabilities
{
    public WorkspaceFoldersServerCapabilities? WorkspaceFolders { get; init; }
    public FileOperationOptions? FileOperations { get; init; }
}

internal sealed record WorkspaceFoldersServerCapabilities(bool Supported, bool ChangeNotifications);

internal sealed record FileOperationOptions
{
    public FileOperationRegistrationOptions? WillRename { get; init; }
    public FileOperationRegistrationOptions? DidRename { get; init; }
}
