using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Explain;

/// <summary>A special function register, or a byte of general-purpose memory, of the chip.</summary>
internal static class RegisterExplainer
{
    public static Explanation Explain(ExplainContext context, Register register, TextSpan span)
    {
        var text = new MarkdownText();
        Describe(context.Device, register, text);
        return new Explanation(text.ToString(), span);
    }

    /// <summary>Everything about a register, the answer first.</summary>
    public static void Describe(Device? device, Register register, MarkdownText text)
    {
        string description = register.Description.Length > 0 ? ": " + MarkdownText.Escape(register.Description) : "";
        text.Paragraph($"**{MarkdownText.Escape(register.Name)}**{description}");
        text.Bullet(Where(device, register));
        text.Bullet($"After power-on: {MarkdownText.Code(Grouped(register.PowerOn))}{Legend(register.PowerOn)}");
        if (register.OtherNames.Length > 0)
            text.Bullet("Also called " + string.Join(", ", register.OtherNames.Select(MarkdownText.Code)));
        if (register.Bits.Length == 0)
            return;
        bool pins = device is not null && register.Bits.Any(b => PinOf(device, b) is not null);
        string[] head = pins ? ["bit", "name", "pin", "meaning"] : ["bit", "name", "meaning"];
        text.Table(head, register.Bits.Select(b => Row(device, b, pins)));
    }

    /// <summary>A short name for a register address in running text: its name where it has one, and the address.</summary>
    /// <param name="device">The chip, or null.</param>
    /// <param name="full">The full data address where the source gives it, else null.</param>
    /// <param name="low">The low seven bits as they are in the word.</param>
    public static string NameOf(Device? device, int? full, int low)
    {
        int address = full ?? low;
        string hex = Show.Hex(address, address > 0xFF ? 3 : 2);
        if (device is null)
            return $"register {hex}";
        Register? register = device.DataMemory.RegisterAt(address);
        if (register is not null)
            return $"{MarkdownText.Code(register.Name)} (register {hex}, {BankText(device, address)})";
        string kind = device.DataMemory.IsGeneralPurpose(address) ? "general-purpose register" : "register";
        string nothing = device.DataMemory.IsImplemented(address) ? "" : $"; {device.Name} has nothing there";
        return $"{kind} {hex} ({BankText(device, address)}{nothing})";
    }

    /// <summary>The bank of an address in words.</summary>
    public static string BankText(Device device, int address) =>
        device.DataMemory.IsSameInEveryBank(address) ? "every bank" : $"bank {DataMemory.BankOf(address)}";

    /// <summary>The package pin of a port or direction bit, or null.</summary>
    public static Pin? PinOf(Device device, BitField bit)
    {
        string register = bit.Register.Name;
        bool isDirection = register.StartsWith("TRIS", StringComparison.Ordinal);
        if (!isDirection && register != "GPIO" && !register.StartsWith("PORT", StringComparison.Ordinal))
            return null;
        string letter = register is "GPIO" or "TRISIO" or "TRIS" ? "GP" : "R" + register[^1];
        string function = letter + bit.Number.ToString(System.Globalization.CultureInfo.InvariantCulture);
        foreach (Pin pin in device.Pins)
            if (pin.Functions.Contains(function))
                return pin;
        return null;
    }

    private static string Where(Device? device, Register register)
    {
        string first = MarkdownText.Code(Show.Hex(register.Address, register.Address > 0xFF ? 3 : 2));
        if (register.Addresses.Length == 1)
            return $"Register {first}, bank {DataMemory.BankOf(register.Address)}";
        if (device is not null && device.DataMemory.IsSameInEveryBank(register.Address))
            return $"Register {first}, the same in every bank";
        string others = string.Join(", ", register.Addresses.Skip(1).Select(a => MarkdownText.Code(Show.Hex(a, 3))));
        return $"Register {first}, bank {DataMemory.BankOf(register.Address)}; shows again at {others}";
    }

    private static string[] Row(Device? device, BitField bit, bool pins)
    {
        string number = bit.Number.ToString(System.Globalization.CultureInfo.InvariantCulture);
        string name = MarkdownText.Code(bit.Spellings[0]);
        string meaning = MarkdownText.Escape(bit.Description);
        if (!pins)
            return [number, name, meaning];
        string pin =
            device is not null && PinOf(device, bit) is { } found
                ? found.Number.ToString(System.Globalization.CultureInfo.InvariantCulture)
                : "";
        return [number, name, pin, meaning];
    }

    private static string Grouped(string powerOn) => powerOn[..4] + " " + powerOn[4..];

    private static string Legend(string powerOn)
    {
        var parts = new List<string>(4);
        if (powerOn.Contains('x', StringComparison.Ordinal))
            parts.Add("x unknown");
        if (powerOn.Contains('q', StringComparison.Ordinal))
            parts.Add("q depends on the cause of the reset");
        if (powerOn.Contains('-', StringComparison.Ordinal))
            parts.Add("- not there, reads 0");
        if (powerOn.Contains('r', StringComparison.Ordinal))
            parts.Add("r reserved");
        return parts.Count == 0 ? "" : $" ({string.Join("; ", parts)})";
    }
}
