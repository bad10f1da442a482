using System.Globalization;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Text;

namespace AsmLsp.Host.Archive;

/// <summary>What an archive says about itself: for people, and once more for other programs.</summary>
internal static class ArchiveText
{
    private static readonly JsonWriterOptions Options = new()
    {
        Indented = true,
        NewLine = "\n",
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    /// <summary>The page that a person reads first.</summary>
    public static string Readme(ArchiveRequest request, ArchiveState state, string document, IEnumerable<string> files)
    {
        string title = $"The program of {OneLine(request.Document.Name)}";
        var text = new StringBuilder();
        text.Append(title).Append('\n').Append('=', title.Length).Append("\n\n");
        text.Append(
            CultureInfo.InvariantCulture,
            $"Recovered from {document}, the copy of that document, by relist {request.Version}.\n\n"
        );
        text.Append("What is in this folder\n\n");
        foreach (string file in files.Append(ArchiveNames.Readme).Append(ArchiveNames.Sums).Distinct())
            text.Append(FileLine(file));
        text.Append("\nOther files in this folder are not part of the archive.\n\nThe program\n\n");
        text.Append(CultureInfo.InvariantCulture, $"  {Chip(state)}: {state.Summary.ToLine(!state.CanBuild)}.\n");
        text.Append(
            CultureInfo.InvariantCulture,
            $"  Doubts and problems: {state.Open.Length + state.AboutDocument.Length} open, {state.Resolved.Length} resolved (doubts.txt).\n"
        );
        text.Append(
            !state.CanBuild ? "  There is no HEX: the source has errors.\n"
            : state.IsClean ? ""
            : "  Until the open ones are resolved, the HEX may differ from what the author meant.\n"
        );
        text.Append(
            "  Before a chip is programmed: code protection and one-time-programmable chips cannot be undone.\n"
        );
        text.Append(
            "\nHow to check it, in this folder\n\n  sha256sum -c SHA256SUMS\n      every file is as it was (macOS: shasum -a 256 -c SHA256SUMS)\n  relist check .\n      the same, and that source.asm builds to source.hex\n"
        );
        text.Append(
            CultureInfo.InvariantCulture,
            $"  relist recover {document}{request.Options} -o again.asm\n      gives recovered.asm once more (with relist {request.Version})\n"
        );
        text.Append("\nWhat to do next, in this folder\n\n");
        text.Append(
            state.Open.Length + state.AboutDocument.Length > 0
                ? "  Compare each open doubt with the printed page. Resolve it in source.asm: write the line as it was\n  printed, and remove everything from ';?' on. Then renew the archive:\n\n"
                : "  After a change of source.asm, renew the archive:\n\n"
        );
        text.Append(CultureInfo.InvariantCulture, $"  relist recover {document}{request.Options} --archive .\n");
        text.Append(
            "\n  After you programmed a chip, read it back, and file what you read with the number of its board:\n\n  relist archive add . readout.hex --board 1\n"
        );
        return text.ToString();
    }

    /// <summary>The page with some files more in its list, before the list of sums; those that it has are left alone.</summary>
    public static string WithFiles(string readme, IEnumerable<string> files)
    {
        int end = readme.IndexOf(FileLine(ArchiveNames.Sums), StringComparison.Ordinal);
        if (end < 0)
            return readme;
        string more = string.Concat(
            files.Select(FileLine).Where(line => !readme.Contains(line, StringComparison.Ordinal))
        );
        return readme.Insert(end, more);
    }

    private static string FileLine(string file) =>
        string.Create(
            CultureInfo.InvariantCulture,
            $"  {file, -14} {(file == ArchiveNames.Sums ? "the SHA-256 of every other file" : ArchiveNames.Meaning(file))}\n"
        );

    /// <summary>The open and the resolved doubts.</summary>
    public static string Doubts(RecoveryResult result, ArchiveState state)
    {
        var text = new StringBuilder();
        int open = state.Open.Length + state.AboutDocument.Length;
        text.Append(CultureInfo.InvariantCulture, $"Open: {open}\n");
        foreach (RecoveryEntry entry in state.AboutDocument)
            text.Append(
                CultureInfo.InvariantCulture,
                $"\n  the document{(entry.Page is { } page ? $", page {page}" : "")}{(entry.Line > 0 ? $", at recovered.asm line {entry.Line + 1}" : "")}\n    {OneLine(entry.Message)}\n"
            );
        foreach (Problem problem in state.Open)
        {
            SourceText source = problem.Place.File.Text;
            string file = problem.Place.File == state.Program.Root ? ArchiveNames.Source : problem.Place.File.ShortName;
            text.Append(
                CultureInfo.InvariantCulture,
                $"\n  {file} line {problem.Place.Line + 1}: {source[problem.Place.Line].Text.Trim()}\n    {OneLine(problem.Message)}\n"
            );
        }

        text.Append(CultureInfo.InvariantCulture, $"\nResolved: {state.Resolved.Length}\n");
        foreach (ResolvedDoubt resolved in state.Resolved)
            text.Append(
                CultureInfo.InvariantCulture,
                $"\n  was  {resolved.Before.Trim()}\n  now  {(resolved.After is { } after ? after.Trim() : "(the line is gone)")}\n"
            );
        return text.ToString();
    }

    /// <summary>The facts as JSON. <c>chip</c> and <c>options</c> say how to do it again.</summary>
    public static string Manifest(ArchiveRequest request, ArchiveState state, string document, bool hasHex)
    {
        using var stream = new MemoryStream();
        using (var json = new Utf8JsonWriter(stream, Options))
        {
            json.WriteStartObject();
            json.WriteString("relist", request.Version);
            json.WriteStartObject("document");
            json.WriteString("name", request.Document.Name);
            json.WriteString("file", document);
            json.WriteString("sha256", Checksums.Of(request.Document.Bytes.Span));
            json.WriteEndObject();
            WriteText(json, "chip", request.Chip);
            json.WriteString("options", request.Options.Trim());
            json.WriteStartObject("program");
            WriteText(json, "chip", state.Summary.Device?.Name);
            json.WriteNumber("words", state.Summary.WordsUsed);
            WriteText(json, "configuration", state.Summary.Configuration is { } word ? Hex(word) : null);
            WriteText(json, "checksum", state.Summary.Checksum is { } sum ? Hex(sum) : null);
            WriteText(json, "hex", hasHex ? ArchiveNames.Hex : null);
            json.WriteEndObject();
            json.WriteNumber("open", state.Open.Length + state.AboutDocument.Length);
            json.WriteNumber("resolved", state.Resolved.Length);
            json.WriteEndObject();
        }

        return Encoding.UTF8.GetString(stream.ToArray()) + "\n";
    }

    /// <summary>The chip that a manifest names beside the source, or null; null too where it cannot be read.</summary>
    public static string? ChipOf(ReadOnlyMemory<byte> manifest) =>
        TextOf(manifest, static root => root.TryGetProperty("chip", out JsonElement chip) ? chip : default);

    /// <summary>The chip of the program as a manifest says, or null.</summary>
    public static string? ProgramChipOf(ReadOnlyMemory<byte> manifest) =>
        TextOf(
            manifest,
            static root =>
                root.TryGetProperty("program", out JsonElement program)
                && program.ValueKind == JsonValueKind.Object
                && program.TryGetProperty("chip", out JsonElement chip)
                    ? chip
                    : default
        );

    /// <summary>The name that the document had before it came into the archive, or null where the manifest does not say.</summary>
    public static string? DocumentNameOf(ReadOnlyMemory<byte> manifest) =>
        TextOf(
            manifest,
            static root =>
                root.TryGetProperty("document", out JsonElement document)
                && document.ValueKind == JsonValueKind.Object
                && document.TryGetProperty("name", out JsonElement name)
                    ? name
                    : default
        );

    private static string? TextOf(ReadOnlyMemory<byte> manifest, Func<JsonElement, JsonElement> find)
    {
        try
        {
            byte[] bytes = manifest.ToArray();
            JsonEscapes.ReplaceLoneSurrogates(bytes);
            using JsonDocument document = JsonDocument.Parse(bytes);
            return
                document.RootElement.ValueKind == JsonValueKind.Object
                && find(document.RootElement) is { ValueKind: JsonValueKind.String } found
                ? found.GetString()
                : null;
        }
        catch (JsonException)
        {
            return null;
        }
    }

    private static void WriteText(Utf8JsonWriter json, string name, string? value)
    {
        if (value is null)
            json.WriteNull(name);
        else
            json.WriteString(name, value);
    }

    private static string Hex(int value) => "0x" + value.ToString("X4", CultureInfo.InvariantCulture);

    private static string Chip(ArchiveState state) =>
        state.Summary.Device is { } device
            ? "PIC" + device.Name.Replace("PIC", "", StringComparison.OrdinalIgnoreCase)
            : "A chip that the source does not name";

    private static string OneLine(string text) => string.Concat(text.Select(static c => char.IsControl(c) ? ' ' : c));
}
