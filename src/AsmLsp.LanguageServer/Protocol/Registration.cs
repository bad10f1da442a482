using System.Text.Json;

namespace AsmLsp.LanguageServer.Protocol;

internal sealed record Registration(string Id, string Method)
{
    public JsonElement? RegisterOptions { get; init; }
}

internal sealed record RegistrationParams(Registration[] Registrations);

internal sealed record Unregistration(string Id, string Method);

/// <summary>The misspelt name is that of the protocol.</summary>
internal sealed record UnregistrationParams(Unregistration[] Unregisterations);
