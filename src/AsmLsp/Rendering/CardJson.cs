using System.Text;
using System.Text.Json;
using AsmLsp.Core.Bench;

namespace AsmLsp.Rendering;

/// <summary>The bench card for scripts.</summary>
internal static class CardJson
{
    private static readonly JsonWriterOptions Indented = new() { Indented = true };

    public static string Of(BenchCard card)
    {
        using var stream = new MemoryStream();
        using (var json = new Utf8JsonWriter(stream, Indented))
        {
            json.WriteStartObject();
            json.WriteString("hex", card.Subject.Name);
            json.WriteString("chip", card.Device.Name);
            json.WriteNumber("words", card.Words);
            json.WriteNumber("eepromBytes", card.EepromBytes);
            json.WriteString("checksum", card.Checksum is { } sum ? $"0x{sum:X4}" : null);
            json.WriteNumber("doubts", card.Subject.Doubts);
            json.WriteNumber("warnings", card.Subject.Warnings);
            Objects(
                "facts",
                card.Facts,
                fact =>
                {
                    json.WriteString("name", fact.Name);
                    json.WriteString("value", fact.Value);
                }
            );
            Objects(
                "configuration",
                card.Configuration.Fields,
                field =>
                {
                    json.WriteString("field", field.Field.Field.Name);
                    json.WriteString("meaning", field.Field.Meaning);
                }
            );
            Objects(
                "pins",
                card.Pins,
                pin =>
                {
                    json.WriteNumber("number", pin.Number);
                    json.WriteStartArray("functions");
                    foreach (string function in pin.Functions)
                        json.WriteStringValue(function);
                    json.WriteEndArray();
                    json.WriteString("kind", pin.Kind);
                    json.WriteString("role", pin.Role);
                    json.WriteString("programming", pin.Programming);
                }
            );
            json.WriteStartArray("board");
            foreach (string demand in card.Board)
                json.WriteStringValue(demand);
            json.WriteEndArray();
            Objects("probesBefore", card.Before, Probe);
            Objects("probesAfter", card.After, Probe);
            Objects(
                "steps",
                card.Steps,
                step =>
                {
                    json.WriteString("text", step.Text);
                    json.WriteStartArray("cautions");
                    foreach (string caution in step.Cautions)
                        json.WriteStringValue(caution);
                    json.WriteEndArray();
                }
            );
            json.WriteEndObject();

            void Probe(Probe probe)
            {
                json.WriteString("where", probe.Where);
                json.WriteString("expect", probe.Expect);
                json.WriteBoolean("known", probe.IsKnown);
            }

            void Objects<T>(string name, IEnumerable<T> items, Action<T> write)
            {
                json.WriteStartArray(name);
                foreach (T item in items)
                {
                    json.WriteStartObject();
                    write(item);
                    json.WriteEndObject();
                }

                json.WriteEndArray();
            }
        }

        return Encoding.UTF8.GetString(stream.ToArray()) + "\n";
    }
}
