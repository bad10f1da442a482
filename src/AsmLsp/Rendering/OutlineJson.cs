using System.Text;
using System.Text.Json;
using AsmLsp.Core.Explain.Outlines;
using AsmLsp.Core.Flow;

namespace AsmLsp.Rendering;

/// <summary>The outline of a program, for scripts. Lines count from 1; cycles are null where they cannot be counted.</summary>
internal static class OutlineJson
{
    private static readonly JsonWriterOptions Indented = new() { Indented = true };

    /// <summary>One object.</summary>
    public static string Of(ProgramOutline outline)
    {
        using var stream = new MemoryStream();
        using (var json = new Utf8JsonWriter(stream, Indented))
        {
            json.WriteStartObject();
            json.WriteString("title", outline.Title);
            PinJson.Write(json, outline.Program, outline.Pins);
            json.WriteBoolean("hasErrors", outline.Program.HasErrors);
            json.WriteNumber("words", outline.UsedWords);
            if (outline.Clock is { } clock)
                json.WriteNumber("clock", clock.Hertz);
            else
                json.WriteNull("clock");
            json.WriteStartArray("configuration");
            foreach (var (_, field) in outline.Configuration?.Fields ?? [])
            {
                json.WriteStartObject();
                json.WriteString("field", field.Field.Name);
                json.WriteString("meaning", field.Meaning);
                json.WriteEndObject();
            }

            json.WriteEndArray();
            Part(json, "start", outline.Start);
            Part(json, "mainLoop", outline.Loop);
            Part(json, "interrupt", outline.Interrupt);
            Texts(json, "lostInInterrupt", outline.Lost);
            Routines(json, outline);
            Variables(json, outline);
            Tables(json, outline);
            json.WriteStartArray("eeprom");
            foreach (OutlineBytes block in outline.Eeprom)
            {
                json.WriteStartObject();
                json.WriteNumber("address", block.Address);
                Line(json, block.Line);
                Numbers(json, "bytes", block.Bytes);
                json.WriteEndObject();
            }

            json.WriteEndArray();
            if (outline.Depth is { } depth)
                json.WriteNumber("depth", depth);
            else
                json.WriteNull("depth");
            Texts(json, "notKnown", outline.Unknowns);
            json.WriteEndObject();
        }

        return Encoding.UTF8.GetString(stream.ToArray());
    }

    private static void Part(Utf8JsonWriter json, string name, OutlinePart? part)
    {
        if (part is null)
        {
            json.WriteNull(name);
            return;
        }

        json.WriteStartObject(name);
        json.WriteNumber("address", part.Address);
        Line(json, part.Line);
        json.WriteString("purpose", part.Purpose);
        json.WriteNumber("words", part.Words);
        Cycles(json, part.Cycles);
        Texts(json, "calls", part.Calls);
        json.WriteEndObject();
    }

    private static void Routines(Utf8JsonWriter json, ProgramOutline outline)
    {
        json.WriteStartArray("routines");
        foreach (OutlineRoutine routine in outline.Routines)
        {
            json.WriteStartObject();
            json.WriteString("name", routine.Name);
            json.WriteNumber("address", routine.Address);
            Line(json, routine.Line);
            json.WriteString("purpose", routine.Purpose);
            json.WriteNumber("words", routine.Words);
            json.WriteBoolean("returns", routine.MayReturn);
            Cycles(json, routine.Cycles);
            Texts(json, "callers", routine.Callers);
            Texts(json, "calls", routine.Calls);
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    private static void Variables(Utf8JsonWriter json, ProgramOutline outline)
    {
        json.WriteStartArray("variables");
        foreach (OutlineVariable variable in outline.Variables)
        {
            json.WriteStartObject();
            json.WriteString("name", variable.Name);
            Texts(json, "otherNames", variable.OtherNames);
            json.WriteNumber("address", variable.Address);
            Line(json, variable.Line);
            json.WriteString("purpose", variable.Purpose);
            Texts(json, "writers", variable.Writers);
            Texts(json, "readers", variable.Readers);
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    private static void Tables(Utf8JsonWriter json, ProgramOutline outline)
    {
        json.WriteStartArray("tables");
        foreach (OutlineTable table in outline.Tables)
        {
            json.WriteStartObject();
            json.WriteString("name", table.Name);
            Line(json, table.Line);
            json.WriteNumber("entries", table.Entries);
            Numbers(json, "values", table.Values);
            Texts(json, "targets", table.Targets);
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    private static void Line(Utf8JsonWriter json, LinePlace place)
    {
        json.WriteString("file", place.File.ShortName);
        json.WriteNumber("line", place.Line + 1);
    }

    private static void Cycles(Utf8JsonWriter json, CycleRange? cycles)
    {
        if (cycles is not { } known)
        {
            json.WriteNull("leastCycles");
            json.WriteNull("mostCycles");
            return;
        }

        json.WriteNumber("leastCycles", known.Least);
        if (known.Most is { } most)
            json.WriteNumber("mostCycles", most);
        else
            json.WriteNull("mostCycles");
    }

    private static void Texts(Utf8JsonWriter json, string name, IEnumerable<string> texts)
    {
        json.WriteStartArray(name);
        foreach (string text in texts)
            json.WriteStringValue(text);
        json.WriteEndArray();
    }

    private static void Numbers(Utf8JsonWriter json, string name, IEnumerable<int> numbers)
    {
        json.WriteStartArray(name);
        foreach (int number in numbers)
            json.WriteNumberValue(number);
        json.WriteEndArray();
    }
}
