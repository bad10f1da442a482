using System.Text.Json;
using System.Text.Json.Serialization;
using System.Text.Json.Serialization.Metadata;
using StreamJsonRpc;

namespace AsmLsp.LanguageServer.Protocol;

/// <summary>
/// How everything that crosses the connection is written and read: generated code only, since native compilation has no reflection.
/// Every type that is a whole parameter object or a whole result is listed; what they contain comes along.
/// </summary>
[JsonSourceGenerationOptions(
    PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase,
    DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
    RespectNullableAnnotations = true,
    RespectRequiredConstructorParameters = true
)]
// RequestId is what '$/cancelRequest' carries: without it a cancellation is dropped silently.
[JsonSerializable(typeof(RequestId))]
[JsonSerializable(typeof(object))]
[JsonSerializable(typeof(JsonElement))]
[JsonSerializable(typeof(JsonElement[]))]
[JsonSerializable(typeof(InitializeParams))]
[JsonSerializable(typeof(InitializeResult))]
[JsonSerializable(typeof(InitializedParams))]
[JsonSerializable(typeof(SetTraceParams))]
[JsonSerializable(typeof(LogTraceParams))]
[JsonSerializable(typeof(DidOpenTextDocumentParams))]
[JsonSerializable(typeof(DidChangeTextDocumentParams))]
[JsonSerializable(typeof(DidSaveTextDocumentParams))]
[JsonSerializable(typeof(DidCloseTextDocumentParams))]
[JsonSerializable(typeof(WillSaveTextDocumentParams))]
[JsonSerializable(typeof(TextDocumentParams))]
[JsonSerializable(typeof(TextDocumentPositionParams))]
[JsonSerializable(typeof(LspTextEdit[]))]
[JsonSerializable(typeof(Location[]))]
[JsonSerializable(typeof(LocationLink[]))]
[JsonSerializable(typeof(PublishDiagnosticsParams))]
[JsonSerializable(typeof(DocumentDiagnosticParams))]
[JsonSerializable(typeof(DocumentDiagnosticReport))]
[JsonSerializable(typeof(WorkspaceDiagnosticParams))]
[JsonSerializable(typeof(WorkspaceDiagnosticReport))]
[JsonSerializable(typeof(DiagnosticServerCancellationData))]
[JsonSerializable(typeof(Hover))]
[JsonSerializable(typeof(CompletionParams))]
[JsonSerializable(typeof(CompletionList))]
[JsonSerializable(typeof(CompletionItem))]
[JsonSerializable(typeof(SignatureHelpParams))]
[JsonSerializable(typeof(SignatureHelp))]
[JsonSerializable(typeof(ReferenceParams))]
[JsonSerializable(typeof(DocumentHighlight[]))]
[JsonSerializable(typeof(SelectionRangeParams))]
[JsonSerializable(typeof(SelectionRange[]))]
[JsonSerializable(typeof(LinkedEditingRanges))]
[JsonSerializable(typeof(DocumentLink[]))]
[JsonSerializable(typeof(DocumentSymbolEntry[]))]
[JsonSerializable(typeof(DocumentSymbol))]
[JsonSerializable(typeof(SymbolInformation[]))]
[JsonSerializable(typeof(WorkspaceSymbolParams))]
[JsonSerializable(typeof(RenameParams))]
[JsonSerializable(typeof(PrepareRenameResult))]
[JsonSerializable(typeof(WorkspaceEdit))]
[JsonSerializable(typeof(TextDocumentEdit))]
[JsonSerializable(typeof(CreateFile))]
[JsonSerializable(typeof(RenameFile))]
[JsonSerializable(typeof(DeleteFile))]
[JsonSerializable(typeof(ApplyWorkspaceEditParams))]
[JsonSerializable(typeof(ApplyWorkspaceEditResult))]
[JsonSerializable(typeof(CodeActionParams))]
[JsonSerializable(typeof(CommandOrCodeAction[]))]
[JsonSerializable(typeof(CodeAction))]
[JsonSerializable(typeof(Command))]
[JsonSerializable(typeof(CodeLens[]))]
[JsonSerializable(typeof(CodeLens))]
[JsonSerializable(typeof(InlayHintParams))]
[JsonSerializable(typeof(InlayHint[]))]
[JsonSerializable(typeof(DocumentFormattingParams))]
[JsonSerializable(typeof(DocumentRangeFormattingParams))]
[JsonSerializable(typeof(DocumentOnTypeFormattingParams))]
[JsonSerializable(typeof(FoldingRange[]))]
[JsonSerializable(typeof(SemanticTokensDeltaParams))]
[JsonSerializable(typeof(SemanticTokensRangeParams))]
[JsonSerializable(typeof(SemanticTokensResult))]
[JsonSerializable(typeof(SemanticTokens))]
[JsonSerializable(typeof(SemanticTokensDelta))]
[JsonSerializable(typeof(CallHierarchyItem[]))]
[JsonSerializable(typeof(CallHierarchyItemParams))]
[JsonSerializable(typeof(CallHierarchyIncomingCall[]))]
[JsonSerializable(typeof(CallHierarchyOutgoingCall[]))]
[JsonSerializable(typeof(ExecuteCommandParams))]
[JsonSerializable(typeof(ConfigurationParams))]
[JsonSerializable(typeof(DidChangeConfigurationParams))]
[JsonSerializable(typeof(DidChangeWatchedFilesParams))]
[JsonSerializable(typeof(DidChangeWatchedFilesRegistrationOptions))]
[JsonSerializable(typeof(DidChangeConfigurationRegistrationOptions))]
[JsonSerializable(typeof(RegistrationParams))]
[JsonSerializable(typeof(UnregistrationParams))]
[JsonSerializable(typeof(DidChangeWorkspaceFoldersParams))]
[JsonSerializable(typeof(ProgressParams))]
[JsonSerializable(typeof(WorkDoneProgressCreateParams))]
[JsonSerializable(typeof(WorkDoneProgressCancelParams))]
[JsonSerializable(typeof(WorkDoneProgressBegin))]
[JsonSerializable(typeof(WorkDoneProgressReport))]
[JsonSerializable(typeof(WorkDoneProgressEnd))]
[JsonSerializable(typeof(ShowMessageParams))]
[JsonSerializable(typeof(LogMessageParams))]
[JsonSerializable(typeof(ShowMessageRequestParams))]
[JsonSerializable(typeof(MessageActionItem))]
[JsonSerializable(typeof(ShowDocumentParams))]
[JsonSerializable(typeof(ShowDocumentResult))]
[JsonSerializable(typeof(RenameFilesParams))]
// Parts of unions that are reached only through a converter.
[JsonSerializable(typeof(MarkupContent))]
[JsonSerializable(typeof(InlayHintLabelPart[]))]
[JsonSerializable(typeof(int[]))]
[JsonSerializable(typeof(string[]))]
[JsonSerializable(typeof(bool))]
[JsonSerializable(typeof(RelativePattern))]
[JsonSerializable(typeof(SaveOptions))]
[JsonSerializable(typeof(CodeActionOptions))]
[JsonSerializable(typeof(RenameOptions))]
[JsonSerializable(typeof(SemanticTokensFullOptions))]
[JsonSerializable(typeof(WorkspaceSymbolOptions))]
[JsonSerializable(typeof(InlayHintOptions))]
internal sealed partial class LspJson : JsonSerializerContext
{
    /// <summary>The generated description of a type.</summary>
    public static JsonTypeInfo<T> Info<T>(JsonSerializerOptions options) =>
        (JsonTypeInfo<T>)options.GetTypeInfo(typeof(T));

    /// <summary>A value as JSON, for the places where the protocol carries anything.</summary>
    public static JsonElement Element<T>(T value) => JsonSerializer.SerializeToElement(value, Info<T>(Default.Options));
}
