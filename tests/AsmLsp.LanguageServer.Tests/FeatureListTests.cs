using System.Reflection;
using System.Text.Json.Serialization;
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
                    $"{method.Name}: {type} is no property of MessageTypes, in the file of the method"
                );
            }
        }
    }

    // Without it the generator writes the union as an object with its two halves.
    [Fact]
    public void Every_property_that_is_a_union_names_its_converter()
    {
        PropertyInfo[] unions =
        [
            .. typeof(IFeature)
                .Assembly.GetTypes()
                .SelectMany(type => type.GetProperties())
                .Where(property =>
                    property.PropertyType is { IsGenericType: true } type
                    && (
                        type.GetGenericTypeDefinition() == typeof(StringOr<>)
                        || type.GetGenericTypeDefinition() == typeof(BoolOr<>)
                    )
                ),
        ];
        Assert.NotEmpty(unions);
        foreach (PropertyInfo union in unions)
        {
            Type? converter = union.GetCustomAttribute<JsonConverterAttribute>()?.ConverterType;
            Assert.True(
                converter?.GenericTypeArguments is [var value] && value == union.PropertyType.GenericTypeArguments[0],
                $"{union.DeclaringType!.Name}.{union.Name} has no [JsonConverter] of its type"
            );
        }
    }

    [Fact]
    public void Each_method_is_named_in_the_one_file_that_answers_it()
    {
        string[] sources = Directory.GetFiles(Path.Combine(Root(), "src/AsmLsp.LanguageServer/Features"), "*.cs");
        foreach (IFeature feature in FeatureList.All)
        {
            var registry = new FeatureRegistry(
                new ServerContext(
                    () => null,
                    new ServerLog(TextWriter.Null),
                    TimeProvider.System,
                    CancellationToken.None
                )
            );
            feature.Register(registry);
            foreach (RegisteredMethod method in registry.Methods)
            {
                string file = Assert.Single(
                    sources,
                    source => File.ReadAllText(source).Contains($"\"{method.Name}\"", StringComparison.Ordinal)
                );
                Assert.Contains($"class {feature.GetType().Name}", File.ReadAllText(file), StringComparison.Ordinal);
            }
        }
    }

    private static string Root()
    {
        string at = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(at, "AsmLsp.sln")))
            at = Path.GetDirectoryName(at) ?? throw new InvalidOperationException("no AsmLsp.sln above the test");
        return at;
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
