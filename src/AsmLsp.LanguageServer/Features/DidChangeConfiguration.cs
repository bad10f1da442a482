using System.Text.Json;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>workspace/didChangeConfiguration</c>, and the first look at the settings.</summary>
internal sealed class DidChangeConfigurationHandler : IFeature
{
    public const string Method = "workspace/didChangeConfiguration";

    public void Register(FeatureRegistry registry)
    {
        registry.Notification<DidChangeConfigurationParams>(
            Method,
            (server, change) => server.Settings.TakePushed(change.Settings, server.Stopping)
        );

        registry.Dynamic(client =>
            client.CanRegister("workspace.didChangeConfiguration")
                ? new Registration("settings", Method)
                {
                    RegisterOptions = LspJson.Element(
                        new DidChangeConfigurationRegistrationOptions { Section = Settings.Section }
                    ),
                }
                : null
        );

        registry.Started(server =>
        {
            if (server.Profile.Configuration)
            {
                _ = server.Settings.FetchAsync(server.Stopping);
            }
        });
    }
}

/// <summary>The settings as pushed; null or missing from clients that expect to be asked.</summary>
internal sealed record DidChangeConfigurationParams
{
    public JsonElement? Settings { get; init; }
}

internal sealed record DidChangeConfigurationRegistrationOptions
{
    public string? Section { get; init; }
}

internal sealed partial class MessageTypes
{
    public DidChangeConfigurationParams? DidChangeConfigurationParams { get; init; }
    public DidChangeConfigurationRegistrationOptions? DidChangeConfigurationRegistrationOptions { get; init; }
}
