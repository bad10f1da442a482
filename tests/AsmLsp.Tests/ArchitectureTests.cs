using System.Text.RegularExpressions;
using System.Xml.Linq;

namespace AsmLsp.Tests;

/// <summary>The arrows of docs/architecture.md: which folder may use which.</summary>
public partial class ArchitectureTests
{
    // Folders of the core in order: each may use itself and those before it, but for the exceptions below. Layout, Fixes
    // and Recovery share one place: a repair is written once, and tidy, fixes and recovery all run it.
    private static readonly string[][] Order =
    [
        ["Text"],
        ["Syntax"],
        ["Doubts"],
        ["Hex"],
        ["Devices"],
        ["Instructions"],
        ["Problems"],
        ["Assembly"],
        ["Execution"],
        ["Flow"],
        ["Disassembly"],
        ["Layout", "Fixes", "Recovery"],
        ["Refactorings"],
        ["Explain"],
    ];

    private static readonly Dictionary<string, string[]> Never = new()
    {
        ["Hex"] = ["Syntax"],
        ["Devices"] = ["Syntax"],
        ["Instructions"] = ["Syntax"],
        ["Problems"] = ["Syntax", "Hex", "Devices", "Instructions"],
    };

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
    [InlineData("AsmLsp.LanguageServer", "AsmLsp.Host")]
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
    public void Folders_of_the_core_use_only_those_before_them()
    {
        var wrong = new List<string>();
        string core = Path.Combine(Root, "src/AsmLsp.Core");
        foreach (
            string folder in Directory
                .GetDirectories(core)
                .Select(d => Path.GetFileName(d)!)
                .Where(d => d is not ("bin" or "obj"))
        )
        {
            int rank = RankOf(folder);
            Assert.True(rank >= 0, $"{folder} has no place in the order of folders");
            foreach (string file in Directory.GetFiles(Path.Combine(core, folder), "*.cs", SearchOption.AllDirectories))
            {
                foreach (Match use in CoreUse().Matches(File.ReadAllText(file)))
                {
                    string used = use.Groups[1].Value;
                    if (RankOf(used) > rank || (Never.TryGetValue(folder, out string[]? never) && never.Contains(used)))
                        wrong.Add($"{Path.GetRelativePath(core, file)} uses {used}");
                }
            }
        }

        Assert.Empty(wrong);
    }

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

    private static int RankOf(string folder) => Array.FindIndex(Order, place => place.Contains(folder));

    [GeneratedRegex(@"^using (?:static )?AsmLsp\.Core\.(\w+)", RegexOptions.Multiline)]
    private static partial Regex CoreUse();

    [GeneratedRegex(
        @"\b(?:Console\.|File\.(?:Read|Write|Open|Exists)|Directory\.|FileStream\b|DateTime\.(?:Now|UtcNow)|Stopwatch\b|Thread\.|Task\.Run|HttpClient|Socket\b|Environment\.Get)"
    )]
    private static partial Regex Outside();
}
