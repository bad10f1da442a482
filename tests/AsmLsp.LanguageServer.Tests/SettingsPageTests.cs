using System.Globalization;
using System.Text.Encodings.Web;
using System.Text.Json;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Tests;

/// <summary>
/// The table of the settings is the only place where they are described: the page and the form of the VS Code extension are made from it.
/// <c>RELIST_UPDATE_DOCS=1 dotnet test tests/AsmLsp.LanguageServer.Tests</c> makes them anew.
/// </summary>
public sealed class SettingsPageTests
{
    private const string Start = "<!-- generated: settings. A test rewrites this with RELIST_UPDATE_DOCS=1. -->\n";
    private const string End = "<!-- end -->\n";

    /// <summary>The form's entries before and after ours are the extension's own matters, not the server's.</summary>
    private const string FormStart = "on the PATH.\"\n        },\n";
    private const string FormEnd = "        \"relist.trace.server\"";

    private static readonly JsonSerializerOptions Plain = new()
    {
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    [Fact]
    public void Page_of_the_settings_is_made_from_their_table()
    {
        string table =
            "| setting | type | default | what it does |\n|---|---|---|---|\n"
            + string.Concat(
                Settings.Descriptions.Select(setting =>
                    $"| `{setting.Name}` | {TypeInWords(setting)} | `{setting.Default}` | {setting.Description} |\n"
                )
            );
        HoldUpToDate(Path.Combine("docs", "settings.md"), Start, End, table);
    }

    [Fact]
    public void Form_of_the_vs_code_extension_is_made_from_their_table() =>
        HoldUpToDate(
            Path.Combine("editor-clients", "vscode", "package.json"),
            FormStart,
            FormEnd,
            string.Concat(Settings.Descriptions.Select(FormOf))
        );

    private static string TypeInWords(SettingDescription setting) =>
        setting switch
        {
            { Type: "string" } => "text",
            { Type: "boolean" } => "true or false",
            { Type: "integer", Bounds: { } bounds } => string.Create(
                CultureInfo.InvariantCulture,
                $"{bounds.Least} to {bounds.Most}"
            ),
            { Type: "array" } => "list of texts",
            _ => throw new InvalidOperationException($"{setting.Name} is of a type without words."),
        };

    private static string FormOf(SettingDescription setting)
    {
        string type = setting.Type switch
        {
            "string" => "[\"string\", \"null\"]",
            "array" => "\"array\", \"items\": { \"type\": \"string\" }",
            string plain => $"\"{plain}\"",
        };
        string limits = setting.Bounds is { } bounds
            ? string.Create(CultureInfo.InvariantCulture, $" \"minimum\": {bounds.Least}, \"maximum\": {bounds.Most},")
            : "";
        string pattern = setting.Pattern is { } text
            ? $" \"pattern\": {Quote(text.Expression)}, \"patternErrorMessage\": {Quote(text.Meaning)},"
            : "";
        return $"        \"relist.{setting.Name}\": {{ \"type\": {type}, \"default\": {setting.Default},{limits}{pattern} \"scope\": \"resource\", \"description\": {Quote(setting.Description)} }},\n";
    }

    private static string Quote(string text) => JsonSerializer.Serialize(text, Plain);

    private static void HoldUpToDate(string name, string start, string end, string made)
    {
        string path = Path.Combine(Repository(), name);
        string text = File.ReadAllText(path);
        int from = text.IndexOf(start, StringComparison.Ordinal) + start.Length,
            to = text.IndexOf(end, from, StringComparison.Ordinal);
        Assert.True(from >= start.Length && to > 0, $"{name} has no place for the settings.");
        string now = text[..from] + made + text[to..];
        if (Environment.GetEnvironmentVariable("RELIST_UPDATE_DOCS") == "1")
        {
            File.WriteAllText(path, now);
        }

        JsonDocument? form = name.EndsWith(".json", StringComparison.Ordinal) ? JsonDocument.Parse(now) : null;
        form?.Dispose();
        Assert.True(now == File.ReadAllText(path), $"{name} is stale: run the tests with RELIST_UPDATE_DOCS=1.");
    }

    private static string Repository()
    {
        string? folder = AppContext.BaseDirectory;
        while (folder is not null && !File.Exists(Path.Combine(folder, "AsmLsp.sln")))
        {
            folder = Path.GetDirectoryName(folder);
        }

        return folder!;
    }
}
