using System.Reflection.Metadata;
using System.Reflection.PortableExecutable;
using ArchUnitNET.Domain;
using ArchUnitNET.Loader;

namespace AsmLsp.Ide.Tests;

/// <summary>What AsmLsp.Ide may know: the core and nothing outside of itself, so that it runs in a browser as it does in a server.</summary>
public sealed class BoundaryTests
{
    // A cancellation token starts nothing: it only lets the caller end the work.
    private const string Harmless = "System.Threading.CancellationToken";

    // What the compiler itself asks in every method that yields.
    private const string HarmlessMember = "System.Environment.get_CurrentManagedThreadId";

    private static readonly string[] Outside =
    [
        "System.Threading.",
        "System.IO.",
        "System.Net.",
        "System.Diagnostics.Process",
        "System.Diagnostics.Stopwatch",
        "System.Console",
        "System.DateTime",
        "System.TimeProvider",
        "System.Text.Json.",
        "System.Reflection.Emit.",
        "StreamJsonRpc.",
    ];

    [Fact]
    public void The_core_is_all_that_it_refers_to()
    {
        Assert.Equal(
            ["AsmLsp.Core"],
            typeof(ProgramModel)
                .Assembly.GetReferencedAssemblies()
                .Select(assembly => assembly.Name!)
                .Where(name => !name.StartsWith("System.", StringComparison.Ordinal))
        );
    }

    [Fact]
    public void It_uses_no_thread_file_socket_clock_or_console()
    {
        string[] used = TypesUsedBy(typeof(ProgramModel).Assembly.Location);
        Assert.Contains("AsmLsp.Core.Assembly.ProgramAnalysis", used);
        Assert.DoesNotContain(
            used,
            type => Outside.Any(outside => type.StartsWith(outside, StringComparison.Ordinal)) && type != Harmless
        );
        Assert.Equal(
            [HarmlessMember],
            used.Where(member => member.StartsWith("System.Environment.", StringComparison.Ordinal)).Distinct()
        );
    }

    // Names before what is made of them, that before what shows or changes it.
    private static readonly string[] Order = ["", "Names", "Structure", "Completing", "Reading", "Changes", "HexFiles"];

    [Fact]
    public void Its_rooms_use_only_those_before_them()
    {
        IType[] types = [.. new ArchLoader().LoadAssembly(typeof(ProgramModel).Assembly).Build().Types];
        Assert.Equal(
            Order.Order(StringComparer.Ordinal),
            types.Select(RoomOf).OfType<string>().Distinct().Order(StringComparer.Ordinal)
        );
        Assert.Empty(
            types
                .SelectMany(static type => type.Dependencies)
                .Where(static use =>
                    RoomOf(use.Origin) is { } from
                    && RoomOf(use.Target) is { } to
                    && Array.IndexOf(Order, to) > Array.IndexOf(Order, from)
                )
                .Select(static use => $"{use.Origin.FullName} uses {use.Target.FullName}")
                .Distinct()
        );
    }

    private static string? RoomOf(IType type) =>
        type.Namespace?.FullName.Split('.') switch
        {
            ["AsmLsp", "Ide"] => "",
            ["AsmLsp", "Ide", var room, ..] => room,
            _ => null,
        };

    private static string NameOf(MetadataReader reader, TypeReference type) =>
        $"{reader.GetString(type.Namespace)}.{reader.GetString(type.Name)}";

    // The table of a compiled file names every type that its code and its signatures touch, whatever 'using' lines say.
    private static string[] TypesUsedBy(string path)
    {
        using var file = new PEReader(File.OpenRead(path));
        MetadataReader reader = file.GetMetadataReader();
        return
        [
            .. reader.TypeReferences.Select(reader.GetTypeReference).Select(type => NameOf(reader, type)),
            .. reader
                .MemberReferences.Select(reader.GetMemberReference)
                .Where(member => member.Parent.Kind == HandleKind.TypeReference)
                .Select(member =>
                    NameOf(reader, reader.GetTypeReference((TypeReferenceHandle)member.Parent))
                    + "."
                    + reader.GetString(member.Name)
                )
                .Where(member => member.StartsWith("System.Environment.", StringComparison.Ordinal)),
        ];
    }
}
