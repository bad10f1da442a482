using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>workspace/didChangeConfiguration</c>, and the first look at the settings.</summary>
internal sealed class DidChangeConfigurationHandler : IFeature
{
    public void Register(FeatureRegistry registry)
    {
        registry.Notification<DidChangeConfigurationParams>(
            Methods.DidChangeConfiguration,
            (server, change) => server.Settings.TakePushed(change.Settings, server.Stopping)
        );

        registry.Dynamic(client =>
            client.CanRegister("workspace.didChangeConfiguration")
                ? new Registration("settings", Methods.DidChangeConfiguration)
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
