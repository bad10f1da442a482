using AsmLsp.Core.Devices;

namespace AsmLsp.Rendering;

/// <summary>The facts of chips for scripts, one object a chip.</summary>
internal static class ChipJson
{
    /// <summary>A list of chips; docs/schemas/chips.json describes it.</summary>
    public static string Of(IEnumerable<Device> chips) =>
        JsonText.Write(json =>
        {
            json.WriteStartArray();
            foreach (Device chip in chips)
            {
                json.WriteStartObject();
                json.WriteString("name", chip.Name);
                json.WriteString("dataSheet", chip.DataSheet);
                json.WriteString("programmingSpecification", chip.ProgrammingSpecification);
                json.WriteNumber("programWords", chip.ProgramWords);
                json.WriteNumber("programPages", chip.ProgramPages);
                json.WriteBoolean("oneTimeProgrammable", chip.IsOneTimeProgrammable);
                json.WriteNumber("registers", chip.DataMemory.GeneralPurposeBytes);
                json.WriteNumber("banks", chip.DataMemory.BankCount);
                json.WriteNumber("eepromBytes", chip.EepromBytes);
                json.WriteNumber("stackLevels", chip.StackDepth);
                json.WriteNumber("fastestClock", chip.MaxClockHertz);
                json.WriteString("deviceId", chip.Identity is { } id ? JsonText.Hex(id.Value) : null);
                json.WriteString(
                    "calibrationAddress",
                    chip.Calibration is { } calibration ? JsonText.Hex(calibration.Address) : null
                );
                json.WriteStartArray("configuration");
                foreach (ConfigurationWord word in chip.ConfigurationWords)
                    Word(json, word);
                json.WriteEndArray();
                json.WriteStartArray("pins");
                foreach (Pin pin in chip.Pins)
                {
                    json.WriteStartObject();
                    json.WriteNumber("number", pin.Number);
                    JsonText.Texts(json, "functions", pin.Functions);
                    json.WriteEndObject();
                }

                json.WriteEndArray();
                JsonText.Texts(json, "cautions", chip.Pitfalls);
                json.WriteEndObject();
            }

            json.WriteEndArray();
        });

    private static void Word(System.Text.Json.Utf8JsonWriter json, ConfigurationWord word)
    {
        json.WriteStartObject();
        json.WriteString("address", JsonText.Hex(word.Address));
        json.WriteString("erased", JsonText.Hex(word.Erased));
        json.WriteStartArray("fields");
        foreach (ConfigField field in word.Fields)
        {
            json.WriteStartObject();
            json.WriteString("name", field.Name);
            json.WriteString("mask", JsonText.Hex(field.Mask));
            json.WriteStartArray("settings");
            foreach (ConfigSetting setting in field.Settings)
            {
                json.WriteStartObject();
                json.WriteString("value", JsonText.Hex(setting.Value));
                json.WriteString("meaning", setting.Meaning);
                JsonText.Texts(json, "names", setting.Names);
                json.WriteEndObject();
            }

            json.WriteEndArray();
            json.WriteEndObject();
        }

        json.WriteEndArray();
        json.WriteEndObject();
    }
}
