using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;

namespace AsmLsp.LanguageServer.Workspace;

/// <summary>
/// The settings of the section <c>relist</c>. All are optional; null and a missing one mean the default, so does one of a wrong type, which
/// is told. A setting is a property here and an entry in the table below.
/// </summary>
internal sealed record Settings
{
    public const string Section = "relist";

    private static readonly ImmutableArray<Entry> Entries =
    [
        Text("device", (settings, value) => settings with { Device = value }),
        Text("clock", (settings, value) => settings with { Clock = value }),
        Texts("includeFolders", (settings, value) => settings with { IncludeFolders = value }),
        Number("tabWidth", 1, 32, (settings, value) => settings with { TabWidth = value }),
        Flag("buildOnSave", (settings, value) => settings with { BuildOnSave = value }),
        Text("output", (settings, value) => settings with { Output = value }),
    ];

    public static Settings Default { get; } = new();

    /// <summary>The chip, where the source names none.</summary>
    public string? Device { get; init; }

    /// <summary>The clock frequency with its unit (<c>4 MHz</c>), where the source names none.</summary>
    public string? Clock { get; init; }

    /// <summary>Further folders in which includes are looked for.</summary>
    public ImmutableArray<string> IncludeFolders { get; init; } = [];

    /// <summary>Columns from one tab stop to the next.</summary>
    public int TabWidth { get; init; } = 8;

    /// <summary>Whether saving a root source writes its HEX file too.</summary>
    public bool BuildOnSave { get; init; }

    /// <summary>Where the HEX file goes; beside the source when left out.</summary>
    public string? Output { get; init; }

    /// <summary>The names of all settings, for documents and checks.</summary>
    public static IEnumerable<string> Names => Entries.Select(entry => entry.Name);

    /// <summary>Reads the section; each complaint says which setting, what is expected and what is used instead.</summary>
    public static (Settings Settings, IReadOnlyList<string> Complaints) Read(JsonElement? section)
    {
        var complaints = new List<string>();
        Settings settings = Default;
        switch (section?.ValueKind)
        {
            case null or JsonValueKind.Null or JsonValueKind.Undefined:
                break;
            case JsonValueKind.Object:
                foreach (Entry entry in Entries)
                {
                    if (section.Value.TryGetProperty(entry.Name, out JsonElement value) && value.ValueKind != JsonValueKind.Null)
                    {
                        settings = entry.Read(settings, value) ?? Complain(settings, entry);
                    }
                }

                break;
            default:
                complaints.Add($"The settings under {Section} should be an object with named values; the defaults are used.");
                break;
        }

        return (settings, complaints);

        Settings Complain(Settings kept, Entry entry)
        {
            complaints.Add($"The setting {Section}.{entry.Name} should be {entry.Expected}; the default is used.");
            return kept;
        }
    }

    public bool Equals(Settings? other) =>
        other is not null && Device == other.Device && Clock == other.Clock && TabWidth == other.TabWidth
        && BuildOnSave == other.BuildOnSave && Output == other.Output && IncludeFolders.SequenceEqual(other.IncludeFolders);

    public override int GetHashCode() => HashCode.Combine(Device, Clock, TabWidth, BuildOnSave, Output, IncludeFolders.Length);

    private static Entry Text(string name, Func<Settings, string?, Settings> set) =>
        new(name, "a text", (settings, value) => value.ValueKind == JsonValueKind.String ? set(settings, Clean(value.GetString()!)) : null);

    private static Entry Flag(string name, Func<Settings, bool, Settings> set) =>
        new(name, "true or false", (settings, value) => value.ValueKind is JsonValueKind.True or JsonValueKind.False ? set(settings, value.GetBoolean()) : null);

    private static Entry Number(string name, int least, int most, Func<Settings, int, Settings> set) =>
        new(
            name,
            string.Create(CultureInfo.InvariantCulture, $"a whole number from {least} to {most}"),
            (settings, value) => value.ValueKind == JsonValueKind.Number && value.TryGetInt32(out int number) && number >= least && number <= most
                ? set(settings, number)
                : null);

    private static Entry Texts(string name, Func<Settings, ImmutableArray<string>, Settings> set) =>
        new(name, "a list of texts", (settings, value) =>
        {
            if (value.ValueKind != JsonValueKind.Array || value.EnumerateArray().Any(entry => entry.ValueKind != JsonValueKind.String))
            {
                return null;
            }

            return set(settings, [.. value.EnumerateArray().Select(entry => entry.GetString()!)]);
        });

    /// <summary>Editors write an empty text where a person cleared the field: that is 'not set'.</summary>
    private static string? Clean(string text) => string.IsNullOrWhiteSpace(text) ? null : text.Trim();

    private sealed record Entry(string Name, string Expected, Func<Settings, JsonElement, Settings?> Read);
}
