using System.Text.Json;

namespace AsmLsp.LanguageServer.Protocol;

internal sealed record CodeLensOptions
{
    public bool? ResolveProvider { get; init; }
}

internal sealed record CodeLens(LspRange Range)
{
    public Command? Command { get; init; }
    public JsonElement? Data { get; init; }
}
