using AsmLsp.LanguageServer.Protocol;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>$/setTrace</c>.</summary>
internal sealed class SetTraceHandler : IFeature
{
    public void Register(FeatureRegistry registry) =>
        registry.Notification<SetTraceParams>(Methods.SetTrace, (server, trace) => server.Client.Trace = trace.Value);
}
