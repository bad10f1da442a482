using System.Runtime.CompilerServices;
using System.Text.Json;
using AsmLsp.Core.Devices;

namespace AsmLsp.Core.Tests.Devices;

public sealed class DeviceReferencePageTests
{
    private static readonly string Root = Path.GetFullPath(Path.Combine(Here(), "..", "..", ".."));
    private static readonly string Sources = Path.Combine(Root, "src", "AsmLsp.Core", "Devices", "Data", "Sources");

    [Fact]
    public void The_page_on_chips_is_what_the_chip_files_say()
    {
        string path = Path.Combine(Root, "docs", "chips.md");
        string wanted = DeviceReferencePage.Render(Sources);
        if (Environment.GetEnvironmentVariable("RELIST_UPDATE_DOCS") == "1")
            File.WriteAllText(path, wanted);
        Assert.Equal(wanted, File.ReadAllText(path));
    }

    [Fact]
    public void Every_chip_says_where_its_facts_come_from()
    {
        Assert.Equal(
            DeviceCatalog.Names,
            Directory
                .EnumerateFiles(Sources, "*.json")
                .Select(Path.GetFileNameWithoutExtension)
                .Order(StringComparer.Ordinal)
        );
        string sourcesPage = File.ReadAllText(Path.Combine(Root, "docs", "sources.md"));
        foreach (string name in DeviceCatalog.Names)
        {
            Device device = DeviceCatalog.Find(name)!;
            using JsonDocument document = JsonDocument.Parse(File.ReadAllText(Path.Combine(Sources, name + ".json")));
            JsonElement root = document.RootElement;
            Assert.Equal(name, root.GetProperty("device").GetString());
            Assert.Equal(device.DataSheet, root.GetProperty("dataSheet").GetProperty("number").GetString());
            Assert.Contains(device.DataSheet, sourcesPage, StringComparison.Ordinal);
            Assert.Contains(device.ProgrammingSpecification, sourcesPage, StringComparison.Ordinal);
            foreach (JsonProperty fact in root.GetProperty("facts").EnumerateObject())
                Assert.Matches("data sheet DS|programming specification DS|from memory", fact.Value.GetString());
            foreach (
                string group in new[]
                {
                    "program memory",
                    "data memory",
                    "registers and bits",
                    "configuration fields",
                    "checksum rules",
                    "pins",
                    "supply",
                    "pitfalls",
                }
            )
                Assert.True(root.GetProperty("facts").TryGetProperty(group, out _), $"{name}: {group}");

            // A name that is said to be met in a program must be one that the chip has.
            foreach (
                string spelling in root.GetProperty("configurationNames")
                    .GetProperty("public user programs")
                    .GetString()!
                    .Split(' ', StringSplitOptions.RemoveEmptyEntries)
            )
                Assert.NotNull(device.Symbols.Find(spelling));
        }
    }

    private static string Here([CallerFilePath] string file = "") => Path.GetDirectoryName(file)!;
}
