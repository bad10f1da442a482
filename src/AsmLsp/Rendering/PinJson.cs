using System.Text;
using System.Text.Json;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Flow.Pins;

namespace AsmLsp.Rendering;

/// <summary>The pins of a program, for scripts.</summary>
internal static class PinJson
{
    private static readonly JsonWriterOptions Indented = new() { Indented = true };

    /// <summary>An object with the chip, its package, the line of the main loop and all pins.</summary>
    public static string Of(ProgramAnalysis program, PinReport report)
    {
        using var stream = new MemoryStream();
        using (var json = new Utf8JsonWriter(stream, Indented))
        {
            json.WriteStartObject();
            Write(json, program, report);
            json.WriteEndObject();
        }

        return Encoding.UTF8.GetString(stream.ToArray());
    }

    /// <summary>The properties of the object; no pins where they are not known.</summary>
    public static void Write(Utf8JsonWriter json, ProgramAnalysis program, PinReport? report)
    {
        json.WriteString("chip", program.Device?.Name);
        json.WriteString("package", program.Device?.Package);
        if (report?.Loop is { } loop && program.Image.TryGet(loop.Head, out _, out WordOrigin origin))
            json.WriteNumber("mainLoopLine", origin.Outermost.Line + 1);
        else
            json.WriteNull("mainLoopLine");
        json.WriteStartArray("pins");
        foreach (PinFacts pin in report is null ? [] : report.Pins)
        {
            json.WriteStartObject();
            if (pin.Package is { } package)
                json.WriteNumber("pin", package.Number);
            else
                json.WriteNull("pin");
            json.WriteString("name", pin.Name);
            Texts(json, "functions", pin.Package is { } known ? known.Functions : []);
            Texts(json, "names", pin.Names);
            State(json, "atReset", pin.AtReset);
            State(json, "afterStart", pin.AfterStart);
            State(json, "inLoop", pin.InLoop);
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    private static void Texts(Utf8JsonWriter json, string name, IEnumerable<string> texts)
    {
        json.WriteStartArray(name);
        foreach (string text in texts)
            json.WriteStringValue(text);
        json.WriteEndArray();
    }

    private static void State(Utf8JsonWriter json, string name, PinState? state)
    {
        if (state is null)
        {
            json.WriteNull(name);
            return;
        }

        json.WriteStartObject(name);
        json.WriteString(
            "direction",
            state.Direction switch
            {
                PinDirection.Input => "input",
                PinDirection.Output => "output",
                _ => "both",
            }
        );
        json.WriteString(
            "level",
            state.Level switch
            {
                PinLevel.Low => "low",
                PinLevel.High => "high",
                PinLevel.Changes => "toggled",
                _ => "unknown",
            }
        );
        if (state.IsAnalog is { } analog)
            json.WriteBoolean("analog", analog);
        else
            json.WriteNull("analog");
        json.WriteBoolean("pullUp", state.HasPullUp);
        json.WriteString("special", state.Special);
        json.WriteString("text", state.ToString());
        json.WriteEndObject();
    }
}
