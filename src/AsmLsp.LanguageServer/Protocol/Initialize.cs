using System.Text.Json;
using System.Text.Json.Serialization;

namespace AsmLsp.LanguageServer.Protocol;

/// <summary>
/// The first request. The client's capabilities stay JSON: the client profile asks for the few that matter, so
/// an unknown or odd shape counts as 'not declared' instead of failing the start.
/// </summary>
internal sealed record InitializeParams : IJsonOnDeserialized
{
    void IJsonOnDeserialized.OnDeserialized() => ListEntries.Check(WorkspaceFolders);

    public int? ProcessId { get; init; }
    public ClientInfo? ClientInfo { get; init; }
    public string? Locale { get; init; }
    public string? RootPath { get; init; }
    public string? RootUri { get; init; }
    public JsonElement? InitializationOptions { get; init; }
    public JsonElement? Capabilities { get; init; }
    public string? Trace { get; init; }
    public WorkspaceFolder[]? WorkspaceFolders { get; init; }
    public IntOrString? WorkDoneToken { get; init; }
}

internal sealed record ClientInfo(string Name, string? Version = null);

internal sealed record InitializeResult(ServerCapabilities Capabilities, ServerInfo ServerInfo);

internal sealed record ServerInfo(string Name, string Version);

internal sealed record InitializedParams;
