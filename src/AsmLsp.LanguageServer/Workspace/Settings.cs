using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;

namespace AsmLsp.LanguageServer.Workspace;

/// <summary>What a setting is, for checks, documents and the editors' forms.</summary>
/// <param name="Name">The name below the section, parts joined by dots.</param>
/// <param name="Type">The JSON type: string, boolean, integer, or array (of strings).</param>
/// <param name="Default">The default as JSON.</param>
/// <param name="Description">What it does, in a sentence or two.</param>
internal sealed record SettingDescription(string Name, string Type, string Default, string Description)
{
    /// <summary>The least and the greatest number, where it is one.</summary>
    public (int Least, int Most)? Bounds { get; init; }

    /// <summary>For an editor's form: an expression that a good text fits, and what such a text is; null where any text will do.</summary>
    public (string Expression, string Meaning)? Pattern { get; init; }
}

/// <summary>
/// The settings of the section <c>relist</c>. All are optional; null and a missing one mean the default, so does one of a wrong type, which
/// is reported. A setting is a property here and an entry in the table below; a name with dots may come nested or as it is. The table is
/// where docs/settings.md and the form of the VS Code extension are made from.
/// </summary>
internal sealed record Settings
{
    public const string Section = "relist";

    private static readonly ImmutableArray<SettingEntry> Entries =
    [
        Text(
            "chip",
            "The chip to take where neither the source nor relist.json names one, such as 16F84A.",
            (settings, value) => settings with { Chip = value }
        ),
        Text(
            "clock",
            "The clock with its unit, such as 4 MHz, where neither the source nor relist.json says. Times are worked out from it; without it cycles are shown.",
            (settings, value) => settings with { Clock = value },
            (@"^\s*[0-9.]+\s*([kM]?Hz)\s*$", "A frequency with its unit, such as 4 MHz or 32.768 kHz.")
        ),
        Texts(
            "define",
            "Names that are defined before the first line, NAME or NAME=TEXT, beside those in relist.json.",
            (settings, value) => settings with { Define = value }
        ),
        Texts(
            "include",
            "Further folders to look for included files in; relative ones count from the workspace folder.",
            (settings, value) => settings with { Include = value }
        ),
        Texts(
            "ignore",
            "Codes of problems that are not shown, such as unused-name, beside those in relist.json. Errors and open doubts are always shown.",
            (settings, value) => settings with { Ignore = value }
        ),
        Text(
            "project",
            "A project file (relist.json) above the workspace that counts nevertheless. A relative name counts from the workspace folder. Without it only one in the workspace counts.",
            (settings, value) => settings with { Project = value }
        ),
        Flag(
            "buildOnSave",
            true,
            "Write the HEX file whenever a source is saved.",
            (settings, value) => settings with { BuildOnSave = value }
        ),
        Text(
            "output",
            "Where the HEX file goes; beside the source when left out. A relative name counts from the source's folder.",
            (settings, value) => settings with { Output = value }
        ),
        Flag(
            "tidyOnSave",
            false,
            "Make every safe layout fix before a source is saved.",
            (settings, value) => settings with { TidyOnSave = value }
        ),
        Number(
            "format.tabWidth",
            8,
            1,
            32,
            "Columns from one tab stop to the next.",
            (settings, value) => settings with { TabWidth = value }
        ),
        Flag(
            "inlayHints.words",
            false,
            "Show the address and the word after each instruction, as gray text that is not in the file.",
            (settings, value) => settings with { HintWords = value }
        ),
        Flag(
            "inlayHints.values",
            false,
            "Show the value after names and expressions, as gray text that is not in the file.",
            (settings, value) => settings with { HintValues = value }
        ),
        Flag(
            "inlayHints.cycles",
            false,
            "Show the instruction cycles after each instruction, as gray text that is not in the file.",
            (settings, value) => settings with { HintCycles = value }
        ),
        Flag(
            "codeLens.callers",
            true,
            "Show above each routine which routines call it.",
            (settings, value) => settings with { LensCallers = value }
        ),
        Flag(
            "codeLens.size",
            true,
            "Show above each routine how many words it takes, and its cycles where they are fixed.",
            (settings, value) => settings with { LensSize = value }
        ),
    ];

    public static Settings Default { get; } = new();

    /// <summary>The chip, where the source names none.</summary>
    public string? Chip { get; init; }

    /// <summary>The clock frequency with its unit (<c>4 MHz</c>), where the source names none.</summary>
    public string? Clock { get; init; }

    /// <summary>Names that are defined before the first line of every program.</summary>
    public ImmutableArray<string> Define { get; init; } = [];

    /// <summary>Codes of problems that are not shown.</summary>
    public ImmutableArray<string> Ignore { get; init; } = [];

    /// <summary>Further folders in which includes are looked for.</summary>
    public ImmutableArray<string> Include { get; init; } = [];

    /// <summary>A project file outside the workspace that counts, or null.</summary>
    public string? Project { get; init; }

    /// <summary>Whether saving a source writes the HEX file of its program too.</summary>
    public bool BuildOnSave { get; init; } = true;

    /// <summary>Where the HEX file goes; beside the source when left out.</summary>
    public string? Output { get; init; }

    /// <summary>Whether the layout is repaired before a source is saved.</summary>
    public bool TidyOnSave { get; init; }

    /// <summary>Columns from one tab stop to the next.</summary>
    public int TabWidth { get; init; } = 8;

    /// <summary>Whether hints show address and word.</summary>
    public bool HintWords { get; init; }

    /// <summary>Whether hints show values.</summary>
    public bool HintValues { get; init; }

    /// <summary>Whether hints show cycles.</summary>
    public bool HintCycles { get; init; }

    /// <summary>Whether lenses show callers.</summary>
    public bool LensCallers { get; init; } = true;

    /// <summary>Whether lenses show words and cycles.</summary>
    public bool LensSize { get; init; } = true;

    /// <summary>All settings, for documents, forms and checks.</summary>
    public static IEnumerable<SettingDescription> Descriptions => Entries.Select(entry => entry.Description);

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
                foreach (SettingEntry entry in Entries)
                {
                    if (Find(section.Value, entry.Description.Name) is { } value)
                    {
                        settings = entry.Read(settings, value) ?? Complain(settings, entry);
                    }
                }

                break;
            default:
                complaints.Add(
                    $"The settings under {Section} should be an object with named values; the defaults are used."
                );
                break;
        }

        return (settings, complaints);

        Settings Complain(Settings kept, SettingEntry entry)
        {
            complaints.Add(
                $"The setting {Section}.{entry.Description.Name} should be {entry.Expected}; the default is used."
            );
            return kept;
        }
    }

    public bool Equals(Settings? other) =>
        other is not null
        && Include.SequenceEqual(other.Include)
        && Define.SequenceEqual(other.Define)
        && Ignore.SequenceEqual(other.Ignore)
        && Rest(this).Equals(Rest(other));

    public override int GetHashCode() => HashCode.Combine(Rest(this), Include.Length, Define.Length, Ignore.Length);

    private static (string?, string?, string?, bool, string?, bool, int, (bool, bool, bool, bool, bool)) Rest(
        Settings of
    ) =>
        (
            of.Chip,
            of.Clock,
            of.Project,
            of.BuildOnSave,
            of.Output,
            of.TidyOnSave,
            of.TabWidth,
            (of.HintWords, of.HintValues, of.HintCycles, of.LensCallers, of.LensSize)
        );

    private static JsonElement? Find(JsonElement section, string name)
    {
        JsonElement at = section;
        if (section.TryGetProperty(name, out JsonElement plain))
        {
            at = plain;
        }
        else
        {
            foreach (string part in name.Split('.'))
            {
                if (at.ValueKind != JsonValueKind.Object || !at.TryGetProperty(part, out at))
                {
                    return null;
                }
            }
        }

        return at.ValueKind == JsonValueKind.Null ? null : at;
    }

    private static SettingEntry Text(
        string name,
        string about,
        Func<Settings, string?, Settings> set,
        (string Expression, string Meaning)? pattern = null
    ) =>
        new(
            new(name, "string", "null", about) { Pattern = pattern },
            "a text",
            (settings, value) =>
                value.ValueKind == JsonValueKind.String ? set(settings, Clean(value.GetString()!)) : null
        );

    private static SettingEntry Flag(string name, bool usual, string about, Func<Settings, bool, Settings> set) =>
        new(
            new(name, "boolean", usual ? "true" : "false", about),
            "true or false",
            (settings, value) =>
                value.ValueKind is JsonValueKind.True or JsonValueKind.False ? set(settings, value.GetBoolean()) : null
        );

    private static SettingEntry Number(
        string name,
        int usual,
        int least,
        int most,
        string about,
        Func<Settings, int, Settings> set
    ) =>
        new(
            new(name, "integer", usual.ToString(CultureInfo.InvariantCulture), about) { Bounds = (least, most) },
            string.Create(CultureInfo.InvariantCulture, $"a whole number from {least} to {most}"),
            (settings, value) =>
                value.ValueKind == JsonValueKind.Number
                && value.TryGetInt32(out int number)
                && number >= least
                && number <= most
                    ? set(settings, number)
                    : null
        );

    private static SettingEntry Texts(
        string name,
        string about,
        Func<Settings, ImmutableArray<string>, Settings> set
    ) =>
        new(
            new(name, "array", "[]", about),
            "a list of texts",
            (settings, value) =>
            {
                if (
                    value.ValueKind != JsonValueKind.Array
                    || value.EnumerateArray().Any(entry => entry.ValueKind != JsonValueKind.String)
                )
                {
                    return null;
                }

                return set(
                    settings,
                    [.. value.EnumerateArray().Select(entry => Clean(entry.GetString()!)).OfType<string>()]
                );
            }
        );

    /// <summary>Editors write an empty text where a person cleared the field: that is 'not set'.</summary>
    private static string? Clean(string text) =>
        string.IsNullOrWhiteSpace(text) || text.Contains('\0', StringComparison.Ordinal) ? null : text.Trim();

    private sealed record SettingEntry(
        SettingDescription Description,
        string Expected,
        Func<Settings, JsonElement, Settings?> Read
    );
}
