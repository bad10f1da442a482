using System.Text.Json;

namespace AsmLsp.LanguageServer.Protocol;

internal sealed record ConfigurationItem
{
    public string? ScopeUri { get; init; }
    public string? Section { get; init; }
}

internal sealed record ConfigurationParams(ConfigurationItem[] Items);
