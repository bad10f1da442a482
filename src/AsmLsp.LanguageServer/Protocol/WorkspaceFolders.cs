using System.Text.Json.Serialization;

namespace AsmLsp.LanguageServer.Protocol;

internal sealed record WorkspaceFolder(string Uri, string Name);

internal sealed record WorkspaceFoldersChangeEvent(WorkspaceFolder[] Added, WorkspaceFolder[] Removed)
    : IJsonOnDeserialized
{
    void IJsonOnDeserialized.OnDeserialized() => ListEntries.Check(Added, Removed);
}

internal sealed record DidChangeWorkspaceFoldersParams(WorkspaceFoldersChangeEvent Event);
