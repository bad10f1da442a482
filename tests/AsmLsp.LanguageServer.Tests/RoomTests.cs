using ArchUnitNET.Domain;
using ArchUnitNET.Loader;
using AsmLsp.LanguageServer.Features;

namespace AsmLsp.LanguageServer.Tests;

/// <summary>The rooms of the server (docs/architecture.md): each may use those before it, by the types that use each other.</summary>
public sealed class RoomTests
{
    private const string Root = "AsmLsp.LanguageServer";

    // The last one is the server itself, in the namespace of the project.
    private static readonly string[] Order = ["Protocol", "Connection", "Workspace", "Features", ""];

    private static readonly Lazy<Architecture> Server = new(static () =>
        new ArchLoader().LoadAssembly(typeof(IFeature).Assembly).Build()
    );

    [Fact]
    public void Every_room_has_its_place_in_the_order() =>
        Assert.Equal(
            Order.Order(StringComparer.Ordinal),
            Server.Value.Types.Select(RoomOf).OfType<string>().Distinct().Order(StringComparer.Ordinal)
        );

    [Fact]
    public void Types_use_only_rooms_before_their_own() =>
        Assert.Empty(
            Server
                .Value.Types.SelectMany(static type => type.Dependencies)
                .Where(static use =>
                    RoomOf(use.Origin) is { } from
                    && RoomOf(use.Target) is { } to
                    && Array.IndexOf(Order, to) > Array.IndexOf(Order, from)
                )
                .Select(static use => $"{use.Origin.FullName} uses {use.Target.FullName}")
                .Distinct()
        );

    private static string? RoomOf(IType type) =>
        type.Namespace?.FullName is not { } name ? null
        : name == Root ? ""
        : name.StartsWith(Root + ".", StringComparison.Ordinal) ? name[(Root.Length + 1)..].Split('.')[0]
        : null;
}
