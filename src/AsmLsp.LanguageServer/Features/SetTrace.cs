using AsmLsp.LanguageServer.Protocol;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>$/setTrace</c>.</summary>
internal sealed class SetTraceHandler : IFeature
{
    public const string Method = "$/setTrace";

    public void Register(FeatureRegistry registry) =>
        registry.Notification<SetTraceParams>(Method, (server, trace) => server.Client.Trace = trace.Value);
}

internal sealed record SetTraceParams(string Value);

internal sealed partial class MessageTypes
{
    public SetTraceParams? SetTraceParams { get; init; }
}
