using System.Text.Json;

namespace AsmLsp.LanguageServer.Protocol;

internal sealed record Registration(string Id, string Method)
{
    public JsonElement? RegisterOptions { get; init; }
}

internal sealed record RegistrationParams(Registration[] Registrations);
