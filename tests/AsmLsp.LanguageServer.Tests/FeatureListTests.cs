using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features;
using AsmLsp.LanguageServer.Protocol;

namespace AsmLsp.LanguageServer.Tests;

public sealed class FeatureListTests
{
    [Fact]
    public void Every_feature_is_in_the_list_once()
    {
        string[] written =
        [
            .. typeof(IFeature)
                .Assembly.GetTypes()
                .Where(type =>
                    type is { IsAbstract: false, IsInterface: false } && type.IsAssignableTo(typeof(IFeature))
                )
                .Select(type => type.Name)
                .Order(),
        ];
        Assert.Equal(written, FeatureList.All.Select(feature => feature.GetType().Name).Order());
    }

    [Fact]
    public void Every_type_that_a_feature_sends_or_takes_has_generated_json()
    {
        var registry = new FeatureRegistry(
            new ServerContext(() => null, new ServerLog(TextWriter.Null), TimeProvider.System, CancellationToken.None)
        );
        foreach (IFeature feature in FeatureList.All)
        {
            feature.Register(registry);
        }

        Assert.NotEmpty(registry.Methods);
        foreach (RegisteredMethod method in registry.Methods)
        {
            foreach (Type? type in (Type?[])[method.Parameters, method.Result])
            {
                Assert.True(
                    type is null || LspJson.Default.GetTypeInfo(type) is not null,
                    $"{method.Name}: {type} is not listed in LspJson"
                );
            }
        }
    }

    [Fact]
    public void No_method_is_registered_twice()
    {
        var registry = new FeatureRegistry(
            new ServerContext(() => null, new ServerLog(TextWriter.Null), TimeProvider.System, CancellationToken.None)
        );
        foreach (IFeature feature in FeatureList.All)
        {
            feature.Register(registry);
        }

        Assert.Equal(registry.Methods.Count, registry.Methods.DistinctBy(method => method.Name).Count());
    }
}
