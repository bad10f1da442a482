using System.Text.Json;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Problems;
using AsmLsp.Host.Building;

namespace AsmLsp.Rendering;

/// <summary>What builds came to, for scripts.</summary>
internal static class BuildJson
{
    /// <summary>A list of builds; docs/schemas/build.json describes it.</summary>
    public static string Of(IEnumerable<Action<Utf8JsonWriter>> builds) =>
        JsonText.Write(json =>
        {
            json.WriteStartArray();
            foreach (Action<Utf8JsonWriter> build in builds)
                build(json);
            json.WriteEndArray();
        });

    /// <summary>One build.</summary>
    /// <param name="json">Where it goes.</param>
    /// <param name="name">The name of the build in relist.json, or null.</param>
    /// <param name="program">The program.</param>
    /// <param name="problems">All its problems.</param>
    /// <param name="result">What the build came to.</param>
    /// <param name="matches">Whether it has the words of the file to compare with; null without one.</param>
    public static void Write(
        Utf8JsonWriter json,
        string? name,
        ProgramAnalysis program,
        IReadOnlyList<Problem> problems,
        BuildResult result,
        bool? matches
    )
    {
        BuildSummary summary = result.Summary;
        bool isBuilt = summary.Errors == 0;
        json.WriteStartObject();
        json.WriteString("file", Sources.Shown(program.Root.Name));
        json.WriteString("build", name);
        json.WriteString("chip", summary.Device?.Name);
        json.WriteString(
            "hex",
            result.HexPath is { } path && path != Sources.Standard ? Sources.Shown(path) : result.HexPath
        );
        json.WriteString("refusal", result.Refusal);
        json.WriteNumber("words", summary.WordsUsed);
        JsonText.Number(json, "wordsAvailable", summary.WordsAvailable);
        json.WriteNumber("eepromBytes", summary.EepromBytes);
        json.WriteString("configuration", isBuilt && summary.Configuration is { } word ? JsonText.Hex(word) : null);
        json.WriteString("checksum", result.Refusal is null && summary.Checksum is { } sum ? JsonText.Hex(sum) : null);
        json.WriteNumber("openDoubts", summary.Doubts);
        json.WriteStartArray("fields");
        if (isBuilt && program.Device is { } device)
            foreach ((_, DecodedField field) in ConfigurationReading.Read(device, program.Image.Memory).Fields)
            {
                json.WriteStartObject();
                json.WriteString("name", field.Field.Name);
                json.WriteString("value", JsonText.Hex(field.Bits));
                json.WriteString("meaning", field.InWords);
                json.WriteEndObject();
            }

        json.WriteEndArray();
        JsonText.Texts(json, "cautions", isBuilt ? BuildSummaryText.CautionsOf(program) : []);
        JsonText.Problems(json, "problems", problems);
        if (matches is { } same)
            json.WriteBoolean("matches", same);
        else
            json.WriteNull("matches");
        json.WriteEndObject();
    }
}
