using System.Globalization;
using System.Text;
using AsmLsp.Core.Devices;

namespace AsmLsp.Core.Disassembly;

/// <summary>A configuration word as source: by the names of its settings where they give the very same word, else as a number.</summary>
internal static class ConfigurationText
{
    /// <summary>The lines for one word (14 bits).</summary>
    public static void Write(StringBuilder text, Device device, ConfigurationWord word, int value, string remark)
    {
        bool isProtected = false;
        foreach (DecodedField field in word.Decode(value))
        {
            text.Append(CultureInfo.InvariantCulture, $"; {field.Field.Name}: {field.Meaning}\n");
            isProtected |=
                field.Field.Role == ConfigRole.CodeProtection
                && field.Setting?.State is ConfigState.On or ConfigState.Partly;
        }

        if (isProtected)
            text.Append("; Code protection is on. Words that were read from a protected chip are not its program.\n");
        string address = device.ConfigurationWords.Length == 1 ? "" : $"0x{word.Address:X4}, ";
        text.Append(
            CultureInfo.InvariantCulture,
            $"        __config {address}{ByNames(device, word, value) ?? $"0x{value:X4}"}{remark}\n"
        );
    }

    /// <summary>The word by the names of its settings, or null where they do not give the very same word.</summary>
    public static string? ByNames(Device device, ConfigurationWord word, int value)
    {
        int made = 0x3FFF;
        var names = new List<string>();
        foreach (DecodedField field in word.Decode(value))
        {
            DeviceSymbol? symbol = null;
            foreach (string name in field.Setting?.Names ?? [])
                symbol ??=
                    device.Symbols.Find(name) is { Kind: DeviceSymbolKind.ConfigurationSetting } found
                    && found.Word == word
                        ? found
                        : null;
            if (symbol is null)
                return null;
            made &= symbol.Value;
            names.Add(symbol.Name);
        }

        return names.Count > 0 && made == value ? string.Join(" & ", names) : null;
    }
}
