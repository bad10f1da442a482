using System.Text.Json;
using AsmLsp.Core.Explain.Outlines;
using AsmLsp.Core.Flow;

namespace AsmLsp.Rendering;

/// <summary>The outline of a program, for scripts; docs/schemas/outline.json describes it. Cycles are null where they cannot be counted.</summary>
internal static class OutlineJson
{
    /// <summary>One object.</summary>
    public static string Of(ProgramOutline outline) =>
        JsonText.Write(json =>
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
            JsonText.List(
                json,
                "configuration",
                outline.Configuration?.Fields ?? [],
                known =>
                {
                    json.WriteString("field", known.Field.Field.Name);
                    json.WriteString("meaning", known.Field.Meaning);
                }
            );
            Part(json, "start", outline.Start);
            Part(json, "mainLoop", outline.Loop);
            Part(json, "interrupt", outline.Interrupt);
            JsonText.Texts(json, "lostInInterrupt", outline.Lost);
            JsonText.List(json, "routines", outline.Routines, routine => Routine(json, routine));
            JsonText.List(json, "variables", outline.Variables, variable => Variable(json, variable));
            JsonText.List(json, "tables", outline.Tables, table => Table(json, table));
            JsonText.List(
                json,
                "eeprom",
                outline.Eeprom,
                block =>
                {
                    json.WriteNumber("address", block.Address);
                    Line(json, block.Line);
                    Numbers(json, "bytes", block.Bytes);
                }
            );
            JsonText.Number(json, "depth", outline.Depth);
            JsonText.Texts(json, "notKnown", outline.Unknowns);
            json.WriteEndObject();
        });

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
        JsonText.Texts(json, "calls", part.Calls);
        json.WriteEndObject();
    }

    private static void Routine(Utf8JsonWriter json, OutlineRoutine routine)
    {
        json.WriteString("name", routine.Name);
        json.WriteNumber("address", routine.Address);
        Line(json, routine.Line);
        json.WriteString("purpose", routine.Purpose);
        json.WriteNumber("words", routine.Words);
        json.WriteBoolean("returns", routine.MayReturn);
        Cycles(json, routine.Cycles);
        JsonText.Texts(json, "callers", routine.Callers);
        JsonText.Texts(json, "calls", routine.Calls);
    }

    private static void Variable(Utf8JsonWriter json, OutlineVariable variable)
    {
        json.WriteString("name", variable.Name);
        JsonText.Texts(json, "otherNames", variable.OtherNames);
        json.WriteNumber("address", variable.Address);
        Line(json, variable.Line);
        json.WriteString("purpose", variable.Purpose);
        JsonText.Texts(json, "writers", variable.Writers);
        JsonText.Texts(json, "readers", variable.Readers);
    }

    private static void Table(Utf8JsonWriter json, OutlineTable table)
    {
        json.WriteString("name", table.Name);
        Line(json, table.Line);
        json.WriteNumber("entries", table.Entries);
        Numbers(json, "values", table.Values);
        JsonText.Texts(json, "targets", table.Targets);
    }

    private static void Line(Utf8JsonWriter json, LinePlace place)
    {
        json.WriteString("file", place.File.ShortName);
        json.WriteNumber("line", place.Line + 1);
    }

    private static void Cycles(Utf8JsonWriter json, CycleRange? cycles)
    {
        Cycles(json, "leastCycles", cycles?.Least);
        Cycles(json, "mostCycles", cycles?.Most);
    }

    private static void Cycles(Utf8JsonWriter json, string name, long? count)
    {
        if (count is { } known)
            json.WriteNumber(name, known);
        else
            json.WriteNull(name);
    }

    private static void Numbers(Utf8JsonWriter json, string name, IEnumerable<int> numbers)
    {
        json.WriteStartArray(name);
        foreach (int number in numbers)
            json.WriteNumberValue(number);
        json.WriteEndArray();
    }
}
