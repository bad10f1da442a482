using System.Globalization;
using AsmLsp.Core.Devices;

namespace AsmLsp.Rendering;

/// <summary>The facts of one chip for people.</summary>
internal static class DeviceText
{
    public static void Write(TextWriter output, Device device)
    {
        output.WriteLine(
            $"{device.Name}, data sheet {device.DataSheet}, programming specification {device.ProgrammingSpecification}"
        );
        if (device.IsOneTimeProgrammable)
            output.WriteLine("  In a plastic package this chip can be programmed once only: a mistake costs the chip.");
        output.WriteLine();
        output.WriteLine("Memory");
        Line(
            output,
            $"  program     {device.ProgramWords} words in {device.ProgramPages} page(s), 0x0000 to 0x{device.ProgramWords - 1:X4}; reset at 0x{device.ResetVector:X4}, interrupt at 0x{device.InterruptVector:X4}"
        );
        Line(
            output,
            $"  registers   {device.DataMemory.GeneralPurposeBytes} general-purpose bytes in {device.DataMemory.BankCount} banks: {string.Join(", ", device.DataMemory.GeneralPurposeRanges.Select(r => $"0x{r.First:X2}-0x{r.Last:X2}"))}"
        );
        if (device.DataMemory.CommonRam is { } common)
            Line(output, $"              0x{common.First:X2}-0x{common.Last:X2} is seen from every bank");
        Line(
            output,
            $"  EEPROM      {(device.EepromBytes == 0 ? "none" : $"{device.EepromBytes} bytes, at word 0x2100 in a HEX file")}"
        );
        Line(output, $"  stack       {device.StackDepth} levels");
        if (device.Identity is { } identity)
            Line(output, $"  device ID   0x{identity.Value:X4} at 0x{identity.Address:X4} (mask 0x{identity.Mask:X4})");
        if (device.Calibration is { } calibration)
            Line(
                output,
                $"  calibration word at 0x{calibration.Address:X3}: {calibration.Content}; keep it when you erase the chip"
            );
        Line(output, $"  supply      {device.Supply}; fastest grade {device.MaxClockHertz / 1_000_000} MHz");

        foreach (ConfigurationWord word in device.ConfigurationWords)
        {
            output.WriteLine();
            Line(output, $"Configuration word at 0x{word.Address:X4} (erased: 0x{word.Erased:X4})");
            foreach (ConfigField field in word.Fields)
            {
                Line(output, $"  {field.Name} (mask 0x{field.Mask:X4}){(field.Note is { } note ? $": {note}" : "")}");
                foreach (ConfigSetting setting in field.Settings)
                    Line(
                        output,
                        $"    0x{setting.Value:X4}  {setting.Meaning}{(setting.Names.IsEmpty ? "" : $"  ({string.Join(", ", setting.Names)})")}"
                    );
            }
        }

        if (!device.Pins.IsEmpty)
        {
            output.WriteLine();
            output.WriteLine($"Pins ({device.Package})");
            foreach (Pin pin in device.Pins)
            {
                string marks =
                    (pin.IsOpenDrain ? ", open drain: pulls low only" : "") + (pin.IsInputOnly ? ", input only" : "");
                Line(output, $"  {pin.Number, 2}  {string.Join(", ", pin.Functions)}{marks}");
            }
        }

        if (!device.NotDigitalAtReset.IsEmpty)
        {
            output.WriteLine();
            output.WriteLine("Not digital after reset");
            foreach (NotDigitalAtReset owner in device.NotDigitalAtReset)
            {
                Line(output, $"  {owner.What} ({string.Join(", ", owner.Pins)}). To free them:");
                foreach (string code in owner.Code)
                    output.WriteLine($"      {code}");
            }
        }

        if (device.LowVoltageProgramming is { } low)
            Line(output, $"\nLow-voltage programming takes {low.Pin} while it is on (field {low.Field}).");
        if (device.Pitfalls.IsEmpty)
            return;
        output.WriteLine();
        output.WriteLine("Cautions");
        foreach (string pitfall in device.Pitfalls)
            output.WriteLine($"  - {pitfall}");
    }

    private static void Line(TextWriter output, FormattableString text) =>
        output.WriteLine(text.ToString(CultureInfo.InvariantCulture));
}
