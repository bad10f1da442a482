using System.Globalization;
using AsmLsp.Core.Devices;

namespace AsmLsp.Rendering;

/// <summary>The facts of one chip for people.</summary>
internal static class DeviceText
{
    public static void Write(TextWriter output, Device device)
    {
        TextTable.Paragraph(
            output,
            "",
            $"{device.Name}, data sheet {device.DataSheet}, programming specification {device.ProgrammingSpecification}"
        );
        if (device.IsOneTimeProgrammable)
            TextTable.Paragraph(
                output,
                "  ",
                "In a plastic package this chip can be programmed once only: a mistake costs the chip."
            );
        Head(output, "Memory");
        TextTable.Write(output, [], [.. Memory(device)], "  ");
        foreach (ConfigurationWord word in device.ConfigurationWords)
            Write(output, word);
        if (!device.Pins.IsEmpty)
        {
            Head(output, $"Pins ({device.Package})");
            TextTable.Write(output, [">", ""], [.. device.Pins.Select(Row)], "  ");
        }

        if (!device.NotDigitalAtReset.IsEmpty)
        {
            Head(output, "Not digital after reset");
            foreach (NotDigitalAtReset owner in device.NotDigitalAtReset)
            {
                TextTable.Paragraph(output, "  ", $"{owner.What} ({string.Join(", ", owner.Pins)}). To free them:");
                foreach (string code in owner.Code)
                    output.WriteLine($"      {code}");
            }
        }

        if (device.LowVoltageProgramming is { } low)
        {
            output.WriteLine();
            TextTable.Paragraph(
                output,
                "",
                $"Low-voltage programming takes {low.Pin} while it is on (field {low.Field})."
            );
        }

        if (device.Pitfalls.IsEmpty)
            return;
        Head(output, "Cautions");
        foreach (string pitfall in device.Pitfalls)
            TextTable.Paragraph(output, "  - ", pitfall);
    }

    private static IEnumerable<string[]> Memory(Device device)
    {
        yield return
        [
            "program",
            Invariant(
                $"{device.ProgramWords} words in {device.ProgramPages} page{(device.ProgramPages == 1 ? "" : "s")}, 0x0000 to 0x{device.ProgramWords - 1:X4}; reset at 0x{device.ResetVector:X4}, interrupt at 0x{device.InterruptVector:X4}"
            ),
        ];
        yield return
        [
            "registers",
            Invariant(
                $"{device.DataMemory.GeneralPurposeBytes} general-purpose bytes in {device.DataMemory.BankCount} bank{(device.DataMemory.BankCount == 1 ? "" : "s")}: {string.Join(", ", device.DataMemory.GeneralPurposeRanges.Select(static r => Invariant($"0x{r.First:X2}-0x{r.Last:X2}")))}"
            ),
        ];
        if (device.DataMemory.CommonRam is { } common)
            yield return ["", Invariant($"0x{common.First:X2}-0x{common.Last:X2} is seen from every bank")];
        yield return
        [
            "EEPROM",
            device.EepromBytes == 0 ? "none" : Invariant($"{device.EepromBytes} bytes, at word 0x2100 in a HEX file"),
        ];
        yield return ["stack", Invariant($"{device.StackDepth} levels")];
        if (device.Identity is { } identity)
            yield return
            [
                "device ID",
                Invariant($"0x{identity.Value:X4} at 0x{identity.Address:X4} (mask 0x{identity.Mask:X4})"),
            ];
        if (device.Calibration is { } calibration)
            yield return
            [
                "calibration",
                Invariant(
                    $"word at 0x{calibration.Address:X3}: {calibration.Content}; keep it when you erase the chip"
                ),
            ];
        yield return ["supply", Invariant($"{device.Supply}; fastest grade {device.MaxClockHertz / 1_000_000} MHz")];
    }

    private static void Write(TextWriter output, ConfigurationWord word)
    {
        Head(output, Invariant($"Configuration word at 0x{word.Address:X4} (erased: 0x{word.Erased:X4})"));
        foreach (ConfigField field in word.Fields)
        {
            TextTable.Paragraph(
                output,
                "  ",
                Invariant($"{field.Name} (mask 0x{field.Mask:X4}){(field.Note is { } note ? $": {note}" : "")}")
            );
            TextTable.Write(
                output,
                [],
                [
                    .. field.Settings.Select(static s =>
                        new[]
                        {
                            Invariant($"0x{s.Value:X4}"),
                            $"{s.Meaning}{(s.Names.IsEmpty ? "" : $"  ({string.Join(", ", s.Names)})")}",
                        }
                    ),
                ],
                "    "
            );
        }
    }

    private static string[] Row(Pin pin) =>
        [
            Invariant($"{pin.Number}"),
            string.Join(", ", pin.Functions)
                + (pin.IsOpenDrain ? ", open drain: pulls low only" : "")
                + (pin.IsInputOnly ? ", input only" : ""),
        ];

    private static void Head(TextWriter output, string title)
    {
        output.WriteLine();
        output.WriteLine(title);
    }

    private static string Invariant(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
