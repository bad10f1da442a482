using System.Text.Json;

namespace AsmLsp.LanguageServer.Protocol;

internal sealed record ExecuteCommandOptions(string[] Commands);

internal sealed record ExecuteCommandParams(string Command)
{
    public JsonElement[]? Arguments { get; init; }
    public IntOrString? WorkDoneToken { get; init; }
}
