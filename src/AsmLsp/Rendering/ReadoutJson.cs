using System.Collections.Immutable;
using System.Text.Json;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Hex;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Readouts;

namespace AsmLsp.Rendering;

/// <summary>What a read-out is, for scripts. Addresses and words are texts such as <c>0x0012</c>.</summary>
internal static class ReadoutJson
{
    /// <summary>A comparison; every word that differs is in its group.</summary>
    public static string Of(ReadoutComparison comparison, ProgramAnalysis? program, int? typedChecksum) =>
        Write(json =>
        {
            WriteVerdict(json, comparison.Verdict, comparison.Device);
            json.WriteBoolean("same", comparison.IsSame);
            json.WriteStartArray("areas");
            foreach (AreaComparison area in comparison.Areas)
            {
                json.WriteStartObject();
                json.WriteString("area", ReadoutReport.AreaName(area.Area));
                json.WriteNumber("matching", area.Matching);
                json.WriteNumber("differing", area.Differing);
                json.WriteStartArray("groups");
                foreach (DifferenceGroup group in area.Groups)
                    WriteGroup(json, group, program);
                json.WriteEndArray();
                json.WriteEndObject();
            }

            json.WriteEndArray();
            json.WriteStartArray("configuration");
            foreach (
                ConfigurationDifference field in ConfigurationDifference.Of(
                    comparison.Device,
                    comparison.Build,
                    comparison.Readout
                )
            )
            {
                json.WriteStartObject();
                json.WriteString("field", field.Field.Name);
                json.WriteString("message", field.Sentence);
                json.WriteEndObject();
            }

            json.WriteEndArray();
            WriteChecksums(json, "buildChecksums", comparison.Device, comparison.Build, typedChecksum);
            WriteChecksums(json, "readoutChecksums", comparison.Device, comparison.Readout, typedChecksum);
        });

    /// <summary>What a file holds by itself.</summary>
    public static string Of(ReadoutContent content, int? typedChecksum) =>
        Write(json =>
        {
            WriteVerdict(json, content.Verdict, content.Device);
            json.WriteNumber("programmedWords", content.ProgrammedWords);
            json.WriteNumber("eepromBytes", content.EepromBytes);
            if (content.DeviceId is { } id)
                json.WriteString("deviceId", Hex(id));
            else
                json.WriteNull("deviceId");
            json.WriteStartArray("notes");
            foreach (string note in content.Notes)
                json.WriteStringValue(note);
            json.WriteEndArray();
            WriteChecksums(json, "checksums", content.Device, content.Memory, typedChecksum);
        });

    private static void WriteVerdict(Utf8JsonWriter json, ReadoutVerdict verdict, Device? device)
    {
        json.WriteStartObject("verdict");
        json.WriteString("kind", verdict.Code);
        json.WriteString("message", verdict.Sentence);
        json.WriteEndObject();
        json.WriteString("chip", device?.Name);
    }

    private static void WriteGroup(Utf8JsonWriter json, DifferenceGroup group, ProgramAnalysis? program)
    {
        json.WriteStartObject();
        json.WriteString("first", Hex(group.First));
        json.WriteString("last", Hex(group.Last));
        json.WriteBoolean("harmless", group.IsHarmless);
        json.WriteStartArray("words");
        foreach (Difference word in group.Words)
        {
            json.WriteStartObject();
            json.WriteString("address", Hex(word.Address));
            json.WriteString("build", word.First is { } first ? Hex(first) : null);
            json.WriteString("readout", word.Second is { } second ? Hex(second) : null);
            json.WriteString("kind", ReadoutReport.KindName(word.Kind));
            if (program is not null && program.Image.TryGet(word.Address, out _, out WordOrigin origin))
            {
                json.WriteString("file", Sources.Shown(origin.File.Name));
                json.WriteNumber("line", origin.Line + 1);
            }

            json.WriteEndObject();
        }

        json.WriteEndArray();
        json.WriteEndObject();
    }

    private static void WriteChecksums(Utf8JsonWriter json, string name, Device? device, WordMemory memory, int? typed)
    {
        json.WriteStartArray(name);
        ImmutableArray<ChecksumCase> cases = device is null ? [] : ChecksumMatch.CasesOf(device, memory);
        foreach (ChecksumCase one in cases)
        {
            json.WriteStartObject();
            json.WriteString("value", Hex(one.Value));
            json.WriteString("protection", one.Protection);
            json.WriteBoolean("selected", one.IsSelected);
            if (typed is { } value)
                json.WriteBoolean("matches", one.Value == value);
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    private static string Write(Action<Utf8JsonWriter> content) =>
        JsonText.Write(json =>
        {
            json.WriteStartObject();
            content(json);
            json.WriteEndObject();
        });

    private static string Hex(int value) => JsonText.Hex(value);
}
