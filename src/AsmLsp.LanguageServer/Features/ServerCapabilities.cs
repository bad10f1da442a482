namespace AsmLsp.LanguageServer.Features;

/// <summary>What the server offers; the file of each method has its own part of it (see <see cref="FeatureRegistry.Capability"/>).</summary>
internal sealed partial record ServerCapabilities
{
    public string? PositionEncoding { get; init; }
    public TextDocumentSyncOptions? TextDocumentSync { get; init; }
    public WorkspaceServerCapabilities? Workspace { get; init; }
}

/// <summary>What is offered about whole workspaces.</summary>
internal sealed partial record WorkspaceServerCapabilities;

/// <summary>Which notifications about documents the server takes.</summary>
internal sealed partial record TextDocumentSyncOptions;
