using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Explain;

/// <summary>A bit of a register: by its name, or by its number after a register.</summary>
internal static class BitExplainer
{
    /// <summary>A built-in bit name; the register before it on the line says which of several is meant.</summary>
    public static Explanation Named(ExplainContext context, DeviceSymbol symbol, string name, TextSpan span)
    {
        Register? register = RegisterOfLine(context);
        var text = new MarkdownText();
        BitField? meant = register is null ? null : symbol.Bits.FirstOrDefault(b => b.Register == register);
        if (meant is not null)
        {
            One(context.Device, meant, text);
        }
        else if (symbol.Bits.Length == 1 && register is null)
        {
            One(context.Device, symbol.Bits[0], text);
        }
        else
        {
            string registers = string.Join(
                " and ",
                symbol.Bits.Select(b => MarkdownText.Code(b.Register.Name)).Distinct()
            );
            text.Paragraph($"**{MarkdownText.Escape(name)}**: bit {symbol.Value} of {registers}");
            foreach (BitField bit in symbol.Bits)
                if (bit.Description.Length > 0)
                    text.Bullet($"In {MarkdownText.Code(bit.Register.Name)}: {MarkdownText.Escape(bit.Description)}");
            if (register is not null)
                text.Bullet(
                    $"Here it follows {MarkdownText.Code(register.Name)}, which has no bit of that name: it means {OfRegister(register, symbol.Value)}"
                );
        }

        return new Explanation(text.ToString(), span);
    }

    /// <summary>A bit number after a register, or null where nothing is known of the register.</summary>
    public static void Numbered(ExplainContext context, int number, MarkdownText text)
    {
        if (RegisterOfLine(context) is not { } register)
            return;
        if (register.Bit(number) is { } bit)
            One(context.Device, bit, text);
        else
            text.Paragraph($"Bit {number} of {MarkdownText.Code(register.Name)}, which has no name there.");
    }

    /// <summary>What a text like <c>PORTB,3</c> means, for defines; an empty string where it is no bit of a register.</summary>
    public static string OfPair(Device? device, int register, int number)
    {
        if (number is < 0 or > 7 || device?.DataMemory.RegisterAt(register) is not { } known)
            return "";
        string pin =
            known.Bit(number) is { } bit && RegisterExplainer.PinOf(device, bit) is { } found
                ? $", pin {found.Number.ToString(CultureInfo.InvariantCulture)} of {device.Package}"
                : "";
        return OfRegister(known, number) + pin;
    }

    private static Register? RegisterOfLine(ExplainContext context)
    {
        if (context.RoleOf(1) != OperandRole.Bit)
            return null;
        return context.RegisterAddress() is { } address ? context.Device?.DataMemory.RegisterAt(address) : null;
    }

    private static string OfRegister(Register register, int number) =>
        register.Bit(number) is { } bit
            ? $"bit {number} of {MarkdownText.Code(register.Name)}, {MarkdownText.Code(bit.Spellings[0])}{(bit.Description.Length > 0 ? ": " + MarkdownText.Escape(bit.Description) : "")}"
            : $"bit {number} of {MarkdownText.Code(register.Name)}";

    private static void One(Device? device, BitField bit, MarkdownText text)
    {
        string description = bit.Description.Length > 0 ? ": " + MarkdownText.Escape(bit.Description) : "";
        text.Paragraph(
            $"**{MarkdownText.Escape(bit.Spellings[0])}**, bit {bit.Number} of {MarkdownText.Code(bit.Register.Name)}{description}"
        );
        if (bit.IsActiveLow)
            text.Bullet($"Active low: the data sheet writes it {MarkdownText.Code(bit.Name)}");
        text.Bullet(
            $"Worth {MarkdownText.Code(Show.Hex(1 << bit.Number, 2))} in the register; after power-on {PowerOn(bit)}"
        );
        if (device is not null)
            text.Bullet(
                $"{MarkdownText.Code(bit.Register.Name)} is register {Show.Hex(bit.Register.Address, 2)} ({RegisterExplainer.BankText(device, bit.Register.Address)})"
            );
        if (device is not null && RegisterExplainer.PinOf(device, bit) is { } pin)
            text.Bullet(PinText(device, pin));
    }

    private static string PinText(Device device, Pin pin)
    {
        string functions =
            pin.Functions.Length > 1
                ? $" ({string.Join(", ", pin.Functions.Skip(1).Select(MarkdownText.Code))} too)"
                : "";
        string drain = pin.IsOpenDrain ? "; it only pulls low: going high needs an outside resistor" : "";
        string input = pin.IsInputOnly ? "; it can only be an input" : "";
        return $"Pin {pin.Number} of {device.Package}{functions}{drain}{input}";
    }

    private static string PowerOn(BitField bit) =>
        bit.Register.PowerOn[7 - bit.Number] switch
        {
            '0' => "0",
            '1' => "1",
            'q' => "as the cause of the reset has it",
            _ => "unknown",
        };
}
