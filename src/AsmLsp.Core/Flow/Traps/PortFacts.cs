using System.Globalization;
using AsmLsp.Core.Devices;

namespace AsmLsp.Core.Flow.Traps;

/// <summary>A port of the chip with its direction register, and what the program makes of its pins.</summary>
internal sealed class PortUse(Register port, Register direction)
{
    public Register Port { get; } = port;

    public Register Direction { get; } = direction;

    /// <summary>Pins that some write to the direction register may make outputs.</summary>
    public int MayBeOutput { get; set; }

    /// <summary>Pins whose direction bit is changed by BSF or BCF while the program runs.</summary>
    public int SwitchedByBit { get; set; }

    /// <summary>Pins set by BSF, and cleared by BCF.</summary>
    public int SetByBit { get; set; }

    /// <summary>Pins cleared by BCF.</summary>
    public int ClearedByBit { get; set; }

    /// <summary>Pins that bit tests read.</summary>
    public int Tested { get; set; }

    /// <summary>Whether the whole port is read.</summary>
    public bool IsReadWhole { get; set; }

    /// <summary>The name of a pin, such as RA4 or GP2.</summary>
    public string Pin(int number) =>
        (Port.Name == "GPIO" ? "GP" : "R" + Port.Name[4..]) + number.ToString(CultureInfo.InvariantCulture);
}

/// <summary>The ports of a program's chip.</summary>
internal sealed class PortFacts
{
    private readonly Dictionary<int, PortUse> byPort = [];

    public PortFacts(TrapContext context)
    {
        if (context.Device is not { } device)
            return;
        foreach (Register port in device.Registers)
            if (DirectionOf(device, port) is { } direction && !byPort.ContainsKey(port.Address))
                byPort.Add(port.Address, Look(context, new PortUse(port, direction)));
    }

    public IEnumerable<PortUse> All => byPort.Values;

    /// <summary>The port at an address, or null.</summary>
    public PortUse? At(int register) => byPort.GetValueOrDefault(register);

    private static Register? DirectionOf(Device device, Register port) =>
        port.Name == "GPIO" ? device.FindRegister("TRISIO") ?? device.FindRegister("TRIS")
        : port.Name is ['P', 'O', 'R', 'T', var letter] ? device.FindRegister("TRIS" + letter)
        : null;

    private static PortUse Look(TrapContext context, PortUse use)
    {
        foreach (int at in context.UsesOf(use.Direction.Address))
        {
            RegisterAccess access = context.AccessAt(at);
            if (!access.Writes)
                continue;
            switch (context.NameAt(at))
            {
                case "bcf":
                    use.MayBeOutput |= access.Mask;
                    use.SwitchedByBit |= access.Mask;
                    break;
                case "bsf":
                    use.SwitchedByBit |= access.Mask;
                    break;
                case "movwf" or "tris":
                    FlowState state = context.Graph.StateAt(at);
                    for (int bit = 1; bit < 0x100; bit <<= 1)
                        if (state.WBit(bit) != true)
                            use.MayBeOutput |= bit;
                    break;
                default:
                    use.MayBeOutput = 0xFF;
                    break;
            }
        }

        // A write in a bank that is not known may be one of this register.
        if (context.UncertainWritesOf(use.Direction.Address).Any())
            use.MayBeOutput = 0xFF;
        if (context.WritesIndirectly && context.MayWrite(use.Direction.Address))
            use.MayBeOutput = 0xFF;
        foreach (int at in context.UsesOf(use.Port.Address))
        {
            RegisterAccess access = context.AccessAt(at);
            string name = context.NameAt(at);
            if (name == "bsf")
                use.SetByBit |= access.Mask;
            else if (name == "bcf")
                use.ClearedByBit |= access.Mask;
            else if (access.Reads && access.Mask != 0xFF)
                use.Tested |= access.Mask;
            else if (access.Reads)
                use.IsReadWhole = true;
        }

        return use;
    }
}
