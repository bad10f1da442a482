using System.Text.Json;
using System.Text.Json.Serialization;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>initialize</c>: learns what the client can do and says what the server offers it.</summary>
internal sealed class InitializeHandler(ServerContext context, FeatureRegistry registry, Action<int> watchParent)
{
    public const string Method = "initialize";

    public InitializeResult Handle(InitializeParams parameters)
    {
        var profile = ClientProfile.From(parameters.Capabilities);
        context.Learn(profile);
        context.Client.Trace = parameters.Trace ?? TraceValue.Off;
        context.Workspace.ChangeFolders(FoldersOf(parameters), []);
        context.Settings.TakeInitial(parameters.InitializationOptions);
        if (parameters.ProcessId is { } processId)
        {
            watchParent(processId);
        }

        return new InitializeResult(registry.Offer(profile), new ServerInfo("relist", ServerVersion.Text));
    }

    /// <summary>The folders, or what older clients send in their place.</summary>
    private static IEnumerable<DocumentUri> FoldersOf(InitializeParams parameters) =>
        parameters.WorkspaceFolders is { } folders ? folders.Select(folder => DocumentUri.Parse(folder.Uri))
        : parameters.RootUri is { Length: > 0 } uri ? [DocumentUri.Parse(uri)]
        : parameters.RootPath is { Length: > 0 } path ? [DocumentUri.FromPath(path)]
        : [];
}

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

internal sealed partial class MessageTypes
{
    public InitializeParams? InitializeParams { get; init; }
    public InitializeResult? InitializeResult { get; init; }
}
