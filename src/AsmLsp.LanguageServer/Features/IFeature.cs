namespace AsmLsp.LanguageServer.Features;

/// <summary>One method of the protocol, or a few that make no sense alone: registers its handlers and adds its part of what the server offers.</summary>
internal interface IFeature
{
    void Register(FeatureRegistry registry);
}
