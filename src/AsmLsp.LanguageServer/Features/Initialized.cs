using AsmLsp.LanguageServer.Protocol;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>initialized</c>: the client is ready for registrations and questions.</summary>
internal sealed class InitializedHandler : IFeature
{
    public void Register(FeatureRegistry registry) => registry.Signal(Methods.Initialized, _ => registry.Start());
}
