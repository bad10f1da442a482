using System.Globalization;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Flow;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Explain;

/// <summary>The chip that a program names: its memory, supply, pins, and what bites at the bench.</summary>
internal static class ChipExplainer
{
    /// <summary>The chip that an operand of <c>list</c> or <c>processor</c> names, or null where it names none.</summary>
    public static Explanation? OfOperand(ExplainContext context, int token)
    {
        if (context.OperandAt(token, out _) is not { } operand)
            return null;
        string text = operand.Text;
        TextSpan span = operand.Span;
        int equals = text.IndexOf('=', StringComparison.Ordinal);
        if (equals >= 0)
        {
            if (!text.AsSpan(0, equals).Trim().Equals("p", StringComparison.OrdinalIgnoreCase))
                return null;
            int start = equals + 1;
            while (start < text.Length && text[start] is ' ' or '\t' or '"')
                start++;
            span = new TextSpan(operand.Span.Start + start, text.Length - start);
            text = text[start..];
        }

        text = text.Trim('"', ' ');
        if (DeviceCatalog.Find(text) is { } device)
            return Explain(context, device, span);
        return text.Length == 0
            ? null
            : new Explanation($"{MarkdownText.Code(text)} is not a chip that is known here.", span);
    }

    public static Explanation Explain(ExplainContext context, Device device, TextSpan span)
    {
        int? used = context.Program.Device == device ? context.Program.Image.ProgramWords : null;
        string use = used is { } words
            ? $"; this program fills {Number(words)} of its {Number(device.ProgramWords)} words"
            : "";
        var text = new MarkdownText().Paragraph($"**{device.Name}**{use}.");
        Describe(device, text);
        return new Explanation(text.ToString(), span);
    }

    /// <summary>Everything about a chip below the first line.</summary>
    public static void Describe(Device device, MarkdownText text)
    {
        string kind = device.ProgramMemory switch
        {
            ProgramMemoryKind.Flash => "flash",
            ProgramMemoryKind.Eeprom => "EEPROM",
            _ => "EPROM",
        };
        string pages = device.ProgramPages > 1 ? $" in {device.ProgramPages} pages" : "";
        string eeprom = device.EepromBytes > 0 ? $", {Number(device.EepromBytes)} bytes of EEPROM" : ", no EEPROM";
        text.Bullet(
            $"Memory: {Number(device.ProgramWords)} words of {kind}{pages}, {device.DataMemory.GeneralPurposeBytes} registers in {device.DataMemory.BankCount} banks from {MarkdownText.Code("0x" + device.DataMemory.FirstGeneralPurpose.ToString("X2", CultureInfo.InvariantCulture))} on{eeprom}"
        );
        if (device.Package is { } package)
            text.Bullet($"Package: {package}, {device.Pins.Length} pins");
        text.Bullet(
            $"Supply: {MarkdownText.Escape(device.Supply)}; clock up to {Clock.RateOf(device.MaxClockHertz)} in the fastest grade"
        );
        text.Bullet($"Data sheet {device.DataSheet}");
        if (device.IsOneTimeProgrammable)
            text.Bullet(
                "**One-time programmable in plastic**: a mistake costs the chip. Check the HEX file and the configuration before programming; only a windowed package can be erased, by ultraviolet light."
            );
        if (device.LowVoltageProgramming is { } low)
            text.Bullet($"Low-voltage programming, where it is left on, takes {MarkdownText.Code(low.Pin)}");
        if (device.Calibration is { } calibration)
            text.Bullet(
                $"The factory's calibration is at {MarkdownText.Code("0x" + calibration.Address.ToString("X4", CultureInfo.InvariantCulture))}: read it out before erasing the chip"
            );
        foreach (NotDigitalAtReset owner in device.NotDigitalAtReset)
        {
            text.Paragraph(
                $"Not digital after reset: {string.Join(", ", owner.Pins.Select(MarkdownText.Code))}: {MarkdownText.Escape(owner.What)}. To free them:"
            );
            text.Source(owner.Code.Select(line => " " + line));
        }

        if (device.Pitfalls.Length == 0)
            return;
        text.Paragraph("What has cost people an evening:");
        foreach (string pitfall in device.Pitfalls)
            text.Bullet(MarkdownText.Escape(pitfall));
    }

    private static string Number(int value) => value.ToString("N0", CultureInfo.InvariantCulture);
}
