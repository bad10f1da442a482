using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using System.Text.Json;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Problems;

namespace AsmLsp.Host;

/// <summary>What is fitted on the board, as far as somebody said so.</summary>
/// <param name="Marking">What is printed on the chip (<c>PIC16F84A-04/P</c>).</param>
/// <param name="Crystal">The crystal or resonator with its unit (<c>4 MHz</c>).</param>
public sealed record Board(string? Marking, string? Crystal);

/// <summary>One of several builds that a project file names; what it leaves out is as the project file says for all.</summary>
/// <param name="Name">Its name, as on the command line.</param>
public sealed record NamedBuild(string Name)
{
    /// <summary>The source to build, or null.</summary>
    public string? Root { get; init; }

    /// <summary>The sources of a program of several, or empty.</summary>
    public ImmutableArray<string> Files { get; init; } = [];

    /// <summary>The chip, or null.</summary>
    public string? Chip { get; init; }

    /// <summary>Names that are defined for this build, beside those for all.</summary>
    public ImmutableArray<string> Define { get; init; } = [];

    /// <summary>Where the HEX file goes; NAME.hex in the folder of the project file when left out.</summary>
    public string? Output { get; init; }
}

/// <summary>A mistake in a project file.</summary>
/// <param name="Line">Line from 1, or 0 where it concerns no line.</param>
/// <param name="Message">What is wrong and what is used instead.</param>
public sealed record WorkspaceFileProblem(int Line, string Message);

/// <summary>
/// The project file <c>relist.json</c>: everything in it is optional. Comments and a comma too many are taken; an entry of a wrong
/// type is reported and left out; the rest counts.
/// </summary>
public sealed record WorkspaceFile
{
    /// <summary>The name of the file.</summary>
    public const string FileName = "relist.json";

    private static readonly JsonDocumentOptions Lenient = new()
    {
        AllowTrailingCommas = true,
        CommentHandling = JsonCommentHandling.Skip,
    };

    private static readonly string[] Known =
    [
        "root",
        "chip",
        "clock",
        "include",
        "output",
        "buildOnSave",
        "tidyOnSave",
        "board",
        "files",
        "define",
        "ignore",
        "builds",
        "$schema",
    ];

    /// <summary>A project that says nothing.</summary>
    public static WorkspaceFile Empty { get; } = new();

    /// <summary>The source that includes the others, relative to the file's folder.</summary>
    public string? Root { get; init; }

    /// <summary>The chip, where the source names none.</summary>
    public string? Chip { get; init; }

    /// <summary>The clock frequency with its unit, where the source names none.</summary>
    public string? Clock { get; init; }

    /// <summary>Further folders for includes, relative to the file's folder.</summary>
    public ImmutableArray<string> Include { get; init; } = [];

    /// <summary>Where the HEX file goes, relative to the file's folder.</summary>
    public string? Output { get; init; }

    /// <summary>Whether an editor writes the HEX file when a source is saved; null leaves that to the editor's settings.</summary>
    public bool? BuildOnSave { get; init; }

    /// <summary>Whether an editor puts the layout right before a source is saved; null leaves that to the editor's settings.</summary>
    public bool? TidyOnSave { get; init; }

    /// <summary>
    /// The sources that the program is put together from, relative to the file's folder; empty where the program has one.
    /// </summary>
    public ImmutableArray<string> Files { get; init; } = [];

    /// <summary>Names that are defined before the first line, 'NAME' or 'NAME=TEXT'.</summary>
    public ImmutableArray<string> Define { get; init; } = [];

    /// <summary>Codes of problems that are not shown.</summary>
    public ImmutableArray<string> Ignore { get; init; } = [];

    /// <summary>Several builds of one program, each with a name.</summary>
    public ImmutableArray<NamedBuild> Builds { get; init; } = [];

    /// <summary>What is fitted on the board.</summary>
    public Board? Board { get; init; }

    /// <summary>Reads the text of a project file.</summary>
    public static (WorkspaceFile File, IReadOnlyList<WorkspaceFileProblem> Problems) Read(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        var problems = new List<WorkspaceFileProblem>();
        JsonDocument document;
        try
        {
            byte[] bytes = Encoding.UTF8.GetBytes(text);
            JsonEscapes.ReplaceLoneSurrogates(bytes);
            document = JsonDocument.Parse(bytes, Lenient);
        }
        catch (JsonException fault)
        {
            int line = (int)(fault.LineNumber ?? -1) + 1;
            problems.Add(new(line, $"{FileName} is not readable as JSON near line {line}; nothing of it is used."));
            return (Empty, problems);
        }

        using (document)
        {
            JsonElement root = document.RootElement;
            if (root.ValueKind != JsonValueKind.Object)
            {
                problems.Add(new(1, $"{FileName} should be an object with named entries; nothing of it is used."));
                return (Empty, problems);
            }

            foreach (JsonProperty entry in root.EnumerateObject().Where(entry => !Known.Contains(entry.Name)))
            {
                problems.Add(
                    new(
                        LineOf(text, entry.Name),
                        $"{FileName}: {entry.Name} is not an entry that is known; it is left out."
                    )
                );
            }

            var reader = new EntryReader(text, problems);
            return (
                new WorkspaceFile
                {
                    Root = reader.Text(root, "root"),
                    Chip = reader.Text(root, "chip"),
                    Clock = reader.Text(root, "clock"),
                    Include = reader.Texts(root, "include"),
                    Output = reader.Text(root, "output"),
                    BuildOnSave = reader.Flag(root, "buildOnSave"),
                    TidyOnSave = reader.Flag(root, "tidyOnSave"),
                    Board = reader.Board(root),
                    Files = reader.Texts(root, "files"),
                    Define = reader.Defines(root),
                    Ignore = reader.Ignored(root),
                    Builds = reader.Builds(root),
                },
                problems
            );
        }
    }

    /// <summary>
    /// The nearest project file at or above a folder, not above <paramref name="topFolder"/> (null: up to the top of the disk);
    /// null where there is none.
    /// </summary>
    public static string? FindAbove(string folder, string? topFolder)
    {
        ArgumentException.ThrowIfNullOrEmpty(folder);
        string? top = topFolder is null ? null : Path.TrimEndingDirectorySeparator(Path.GetFullPath(topFolder));
        for (
            string? at = Path.TrimEndingDirectorySeparator(Path.GetFullPath(folder));
            at is not null;
            at = Path.GetDirectoryName(at)
        )
        {
            string candidate = Path.Combine(at, FileName);
            if (FileKinds.Of(candidate) == FileKind.Regular)
            {
                return candidate;
            }

            if (at == top)
            {
                break;
            }
        }

        return null;
    }

    private static int LineOf(string text, string name)
    {
        int at = text.IndexOf($"\"{name}\"", StringComparison.Ordinal);
        // A name that is written with escapes is not found by its letters.
        return at < 0 ? 1 : 1 + text.AsSpan(0, at).Count('\n');
    }

    private sealed class EntryReader(string text, List<WorkspaceFileProblem> problems)
    {
        public string? Text(JsonElement parent, string name, string? shown = null)
        {
            if (!parent.TryGetProperty(name, out JsonElement value) || value.ValueKind == JsonValueKind.Null)
            {
                return null;
            }

            if (value.ValueKind == JsonValueKind.String && IsUsable(value))
            {
                string trimmed = value.GetString()!.Trim();
                return trimmed.Length == 0 ? null : trimmed;
            }

            Complain(name, $"{shown ?? name} should be a text in quotes");
            return null;
        }

        public bool? Flag(JsonElement parent, string name)
        {
            if (!parent.TryGetProperty(name, out JsonElement value) || value.ValueKind == JsonValueKind.Null)
                return null;
            if (value.ValueKind is JsonValueKind.True or JsonValueKind.False)
                return value.GetBoolean();
            Complain(name, $"{name} should be true or false");
            return null;
        }

        public ImmutableArray<string> Texts(JsonElement parent, string name)
        {
            if (!parent.TryGetProperty(name, out JsonElement value) || value.ValueKind == JsonValueKind.Null)
            {
                return [];
            }

            if (value.ValueKind == JsonValueKind.Array && value.EnumerateArray().All(IsUsable))
            {
                return
                [
                    .. value
                        .EnumerateArray()
                        .Select(entry => entry.GetString()!)
                        .Where(static t => t.Trim().Length > 0),
                ];
            }

            Complain(name, $"{name} should be a list of texts in quotes");
            return [];
        }

        public ImmutableArray<string> Defines(JsonElement parent)
        {
            ImmutableArray<string> all = Texts(parent, "define");
            foreach (string define in all.Where(d => !OutsideDefines.IsWellFormed(d)))
                Complain("define", $"'{define}' in define should be a name, or a name, '=' and a text");
            return all.All(OutsideDefines.IsWellFormed) ? all : [.. all.Where(OutsideDefines.IsWellFormed)];
        }

        public ImmutableArray<string> Ignored(JsonElement parent)
        {
            ImmutableArray<string> all = Texts(parent, "ignore");
            foreach (string code in all.Where(static c => !IgnoredProblems.MayIgnore(c)))
                Complain("ignore", $"'{code}' in ignore should be the code of a warning or note");
            return all.All(IgnoredProblems.MayIgnore) ? all : [.. all.Where(IgnoredProblems.MayIgnore)];
        }

        public ImmutableArray<NamedBuild> Builds(JsonElement parent)
        {
            if (!parent.TryGetProperty("builds", out JsonElement value) || value.ValueKind == JsonValueKind.Null)
                return [];
            if (value.ValueKind != JsonValueKind.Array)
            {
                Complain("builds", "builds should be a list of objects with a name each");
                return [];
            }

            var builds = new List<NamedBuild>();
            foreach (JsonElement entry in value.EnumerateArray())
            {
                if (entry.ValueKind != JsonValueKind.Object || Text(entry, "name", "builds.name") is not { } name)
                {
                    Complain("builds", "each entry of builds should be an object with a name");
                    continue;
                }

                if (builds.Exists(b => b.Name.Equals(name, StringComparison.OrdinalIgnoreCase)))
                {
                    Complain("builds", $"two builds are called {name}");
                    continue;
                }

                builds.Add(
                    new NamedBuild(name)
                    {
                        Root = Text(entry, "root", "builds.root"),
                        Files = Texts(entry, "files"),
                        Chip = Text(entry, "chip", "builds.chip"),
                        Define = Defines(entry),
                        Output = Text(entry, "output", "builds.output"),
                    }
                );
            }

            return [.. builds];
        }

        public Board? Board(JsonElement parent)
        {
            if (!parent.TryGetProperty("board", out JsonElement value) || value.ValueKind == JsonValueKind.Null)
            {
                return null;
            }

            if (value.ValueKind != JsonValueKind.Object)
            {
                Complain("board", "board should be an object with marking and crystal");
                return null;
            }

            foreach (JsonProperty entry in value.EnumerateObject().Where(e => e.Name is not ("marking" or "crystal")))
                Complain(entry.Name, $"board.{entry.Name} is not an entry that is known");
            return new(Text(value, "marking", "board.marking"), Text(value, "crystal", "board.crystal"));
        }

        // A zero character is in no name and no number.
        private static bool IsUsable(JsonElement value) =>
            value.ValueKind == JsonValueKind.String && !value.GetString()!.Contains('\0', StringComparison.Ordinal);

        private void Complain(string name, string what) =>
            problems.Add(
                new(
                    LineOf(text, name),
                    string.Create(CultureInfo.InvariantCulture, $"{FileName}: {what}; it is left out.")
                )
            );
    }
}
