using System.Text.Json;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Commands;
using AsmLsp.LanguageServer.Protocol;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>workspace/executeCommand</c>.</summary>
internal sealed class ExecuteCommandHandler : IFeature
{
    public const string Method = "workspace/executeCommand";

    public void Register(FeatureRegistry registry)
    {
        registry.Capability(
            (offer, _) =>
                offer with
                {
                    ExecuteCommandProvider = new([.. CommandList.All.Select(command => command.Name)]),
                }
        );
        registry.RequestAsync<ExecuteCommandParams, JsonElement?>(
            Method,
            (request, asked, cancellation) =>
            {
                ICommand command =
                    CommandList.All.FirstOrDefault(command => command.Name == asked.Command)
                    ?? throw LspException.BadParameters($"There is no command called {asked.Command}.");
                return command.RunAsync(request, asked.Arguments ?? [], asked.WorkDoneToken, cancellation);
            }
        );
    }
}

internal sealed record ExecuteCommandOptions(string[] Commands);

internal sealed record ExecuteCommandParams(string Command)
{
    public JsonElement[]? Arguments { get; init; }
    public IntOrString? WorkDoneToken { get; init; }
}

internal sealed partial record ServerCapabilities
{
    public ExecuteCommandOptions? ExecuteCommandProvider { get; init; }
}

internal sealed partial class MessageTypes
{
    public ExecuteCommandParams? ExecuteCommandParams { get; init; }
}
