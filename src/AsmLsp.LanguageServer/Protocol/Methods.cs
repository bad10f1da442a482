namespace AsmLsp.LanguageServer.Protocol;

/// <summary>
/// Names of the messages that the connection itself knows, and of those that the server sends, as in LSP 3.17. The name of a method that it
/// answers is in the file of that method.
/// </summary>
internal static class Methods
{
    public const string Initialize = "initialize";
    public const string Shutdown = "shutdown";
    public const string Exit = "exit";
    public const string CancelRequest = "$/cancelRequest";
    public const string Progress = "$/progress";
    public const string LogTrace = "$/logTrace";

    public const string PublishDiagnostics = "textDocument/publishDiagnostics";

    public const string ApplyEdit = "workspace/applyEdit";
    public const string Configuration = "workspace/configuration";
    public const string CodeLensRefresh = "workspace/codeLens/refresh";
    public const string InlayHintRefresh = "workspace/inlayHint/refresh";
    public const string SemanticTokensRefresh = "workspace/semanticTokens/refresh";
    public const string DiagnosticRefresh = "workspace/diagnostic/refresh";

    public const string RegisterCapability = "client/registerCapability";
    public const string ShowMessage = "window/showMessage";
    public const string ShowMessageRequest = "window/showMessageRequest";
    public const string ShowDocument = "window/showDocument";
    public const string LogMessage = "window/logMessage";
    public const string WorkDoneProgressCreate = "window/workDoneProgress/create";
}
