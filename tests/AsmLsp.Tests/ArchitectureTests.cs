using System.Text.RegularExpressions;
using System.Xml.Linq;
using ArchUnitNET.Domain;
using ArchUnitNET.Loader;

namespace AsmLsp.Tests;

/// <summary>The arrows of docs/architecture.md: which room may use which, by the types that use each other.</summary>
public partial class ArchitectureTests
{
    // The rooms of the core in order: each may use those before it, and none of those after it.
    private static readonly string[] Order =
    [
        "Text",
        "Syntax",
        "Doubts",
        "Hex",
        "Devices",
        "Instructions",
        "Problems",
        "Assembly",
        "Execution",
        "Flow",
        "Disassembly",
        "Readouts",
        "Bench",
        "Layout",
        "Shapes",
        "Repairs",
        "Printed",
        "Recovery",
        "Refactorings",
        "Replacement",
        "Explain",
    ];

    // The rooms inside the recovery, in order; the stages that use them all are in the recovery's own namespace.
    private static readonly string[] RecoveryOrder =
    [
        "Pastes",
        "Results",
        "Listings",
        "Evidence",
        "Suspicions",
        "Audit",
        "",
    ];

    private static readonly Lazy<Architecture> Core = new(static () =>
        new ArchLoader().LoadAssembly(typeof(AsmLsp.Core.Text.SourceText).Assembly).Build()
    );

    private static string Root => Repository.Root;

    [Fact]
    public void Core_refers_to_the_base_class_library_only()
    {
        XDocument project = XDocument.Load(Path.Combine(Root, "src/AsmLsp.Core/AsmLsp.Core.csproj"));
        Assert.DoesNotContain(
            project.Descendants(),
            e => e.Name.LocalName is "PackageReference" or "ProjectReference" or "FrameworkReference"
        );
    }

    [Theory]
    [InlineData("AsmLsp.Pdf", "AsmLsp.Core")]
    [InlineData("AsmLsp.Host", "AsmLsp.Core")]
    [InlineData("AsmLsp.Ide", "AsmLsp.Core")]
    [InlineData("AsmLsp.LanguageServer", "AsmLsp.Host,AsmLsp.Ide")]
    [InlineData("AsmLsp.Documents", "AsmLsp.Core")]
    [InlineData("AsmLsp", "AsmLsp.Documents,AsmLsp.LanguageServer,AsmLsp.Pdf")]
    public void Projects_refer_one_way(string project, string to)
    {
        XDocument file = XDocument.Load(Path.Combine(Root, "src", project, project + ".csproj"));
        string[] references =
        [
            .. file.Descendants("ProjectReference")
                .Select(e => Path.GetFileNameWithoutExtension(e.Attribute("Include")!.Value))
                .Order(),
        ];
        Assert.Equal(to.Split(',').Order(), references);
    }

    [Fact]
    public void Every_room_has_its_place_in_the_order()
    {
        Assert.Equal(Order.Order(StringComparer.Ordinal), Rooms(RoomOf));
        Assert.Equal(RecoveryOrder.Order(StringComparer.Ordinal), Rooms(RecoveryRoomOf));
    }

    [Fact]
    public void Types_of_the_core_use_only_rooms_before_their_own() => Assert.Empty(Backwards(Order, RoomOf));

    [Fact]
    public void Types_of_the_recovery_use_only_rooms_before_their_own() =>
        Assert.Empty(Backwards(RecoveryOrder, RecoveryRoomOf));

    [Fact]
    public void The_auditor_uses_nothing_of_what_it_audits() =>
        Assert.Empty(
            Core.Value.Types.Where(static t => RecoveryRoomOf(t) == "Audit")
                .SelectMany(static t => t.Dependencies)
                .Where(static d =>
                    RecoveryRoomOf(d.Target) is "Listings" or "Evidence" or "Suspicions" or "Pastes"
                    || RoomOf(d.Target) == "Repairs"
                )
                .Select(static d => $"{d.Origin.FullName} uses {d.Target.FullName}")
                .Distinct()
        );

    // Files, clocks, consoles, threads and networks by their types in the base class library.
    [Fact]
    public void Core_touches_nothing_outside_itself()
    {
        var wrong = new List<string>();
        foreach (
            string file in Directory
                .GetFiles(Path.Combine(Root, "src/AsmLsp.Core"), "*.cs", SearchOption.AllDirectories)
                .Where(f => !f.Contains("/obj/", StringComparison.Ordinal))
        )
        {
            foreach (Match use in Outside().Matches(File.ReadAllText(file)))
                wrong.Add($"{Path.GetFileName(file)}: {use.Value}");
        }

        Assert.Empty(wrong);
    }

    [Fact]
    public void Serve_starts_without_the_command_line_and_console_libraries()
    {
        string program = File.ReadAllText(Path.Combine(Root, "src/AsmLsp/Program.cs"));
        Assert.DoesNotContain("System.CommandLine", program, StringComparison.Ordinal);
        Assert.DoesNotContain("Spectre", program, StringComparison.Ordinal);
    }

    private static IEnumerable<string> Rooms(Func<IType, string?> roomOf) =>
        Core.Value.Types.Select(roomOf).OfType<string>().Distinct().Order(StringComparer.Ordinal);

    private static IEnumerable<string> Backwards(string[] order, Func<IType, string?> roomOf) =>
        Core
            .Value.Types.SelectMany(static t => t.Dependencies)
            .Where(d =>
                roomOf(d.Origin) is { } from
                && roomOf(d.Target) is { } to
                && Array.IndexOf(order, to) > Array.IndexOf(order, from)
            )
            .Select(static d => $"{d.Origin.FullName} uses {d.Target.FullName}")
            .Distinct()
            .Order(StringComparer.Ordinal);

    // The part of the namespace after the core's own; null for what is not the core's.
    private static string? RoomOf(IType type) =>
        type.Namespace?.FullName.Split('.') is ["AsmLsp", "Core", var room, ..] ? room : null;

    // The part of the namespace after that of the recovery, empty for the recovery itself; null for what is not the recovery's.
    private static string? RecoveryRoomOf(IType type) =>
        type.Namespace?.FullName.Split('.') switch
        {
            ["AsmLsp", "Core", "Recovery", var room, ..] => room,
            ["AsmLsp", "Core", "Recovery"] => "",
            _ => null,
        };

    [GeneratedRegex(
        @"\b(?:Console\.|File\.(?:Read|Write|Open|Exists)|Directory\.|FileStream\b|DateTime\.(?:Now|UtcNow)|Stopwatch\b|Thread\.|Task\.Run|HttpClient|Socket\b|Environment\.Get)"
    )]
    private static partial Regex Outside();
}
