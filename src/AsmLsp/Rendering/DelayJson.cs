using System.Text;
using System.Text.Json;
using AsmLsp.Core.Flow;

namespace AsmLsp.Rendering;

/// <summary>A delay, for scripts.</summary>
internal static class DelayJson
{
    private static readonly JsonWriterOptions Indented = new() { Indented = true };

    /// <summary>One object; the lines of a routine include its return.</summary>
    public static string Of(string request, long cycles, string? routine, Delay delay)
    {
        using var stream = new MemoryStream();
        using (var json = new Utf8JsonWriter(stream, Indented))
        {
            json.WriteStartObject();
            json.WriteString("request", request);
            json.WriteNumber("cycles", cycles);
            json.WriteNumber("words", delay.Words + (routine is null ? 0 : 1));
            json.WriteString("routine", routine);
            json.WriteStartArray("counters");
            foreach (string counter in delay.Counters)
                json.WriteStringValue(counter);
            json.WriteEndArray();
            json.WriteBoolean("changesW", delay.ChangesW);
            json.WriteBoolean("changesFlags", delay.ChangesFlags);
            json.WriteStartArray("lines");
            foreach (DelayLine line in delay.Lines)
                Line(json, line);
            if (routine is not null)
                Line(json, new DelayLine("return", ""));
            json.WriteEndArray();
            json.WriteEndObject();
        }

        return Encoding.UTF8.GetString(stream.ToArray());
    }

    private static void Line(Utf8JsonWriter json, DelayLine line)
    {
        json.WriteStartObject();
        json.WriteString("operation", line.Operation);
        json.WriteString("operands", line.Operands);
        json.WriteEndObject();
    }
}
