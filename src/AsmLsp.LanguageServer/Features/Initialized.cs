using AsmLsp.LanguageServer.Protocol;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>initialized</c>: the client is ready for registrations and questions.</summary>
internal sealed class InitializedHandler : IFeature
{
    public const string Method = "initialized";

    public void Register(FeatureRegistry registry) => registry.Signal(Method, _ => registry.Start());
}
