using System.Text.Json;

namespace AsmLsp.LanguageServer.Protocol;

internal sealed record ConfigurationItem
{
    public string? ScopeUri { get; init; }
    public string? Section { get; init; }
}

internal sealed record ConfigurationParams(ConfigurationItem[] Items);

/// <summary>The settings as pushed; null or missing from clients that expect to be asked.</summary>
internal sealed record DidChangeConfigurationParams
{
    public JsonElement? Settings { get; init; }
}
