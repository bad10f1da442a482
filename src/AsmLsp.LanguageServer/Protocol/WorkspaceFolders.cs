namespace AsmLsp.LanguageServer.Protocol;

internal sealed record WorkspaceFolder(string Uri, string Name);

internal sealed record WorkspaceFoldersChangeEvent(WorkspaceFolder[] Added, WorkspaceFolder[] Removed);

internal sealed record DidChangeWorkspaceFoldersParams(WorkspaceFoldersChangeEvent Event);
