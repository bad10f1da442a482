using System.Collections.Immutable;
using AsmLsp.Core.Devices;

namespace AsmLsp.Core.Bench;

/// <summary>A pin of a port: where the program reads and writes it.</summary>
/// <param name="Name">The port bit, such as <c>RB0</c>.</param>
/// <param name="Pin">The pin of the package, or null where the chip has no dual-in-line package.</param>
/// <param name="Port">The lowest address of the port's register.</param>
/// <param name="Bit">The bit in it, 0 to 7.</param>
/// <param name="IsOpenDrain">Whether the pin only pulls low.</param>
/// <param name="IsInputOnly">Whether the pin cannot be an output.</param>
public sealed record PortPin(string Name, Pin? Pin, int Port, int Bit, bool IsOpenDrain, bool IsInputOnly);

/// <summary>The ports of a chip by its register names: PORTA with TRISA (and LATA), GPIO with TRISIO.</summary>
internal sealed class PortPins
{
    private PortPins(ImmutableArray<PortPin> pins, Dictionary<int, int> direction, Dictionary<int, int> latch) =>
        (Pins, DirectionOf, LatchOf) = (pins, direction, latch);

    /// <summary>All port pins, in the order of ports and bits.</summary>
    public ImmutableArray<PortPin> Pins { get; }

    /// <summary>The port that a direction register (TRIS) is for, by their lowest addresses.</summary>
    public Dictionary<int, int> DirectionOf { get; }

    /// <summary>The port that a latch register (LAT) is for, by their lowest addresses.</summary>
    public Dictionary<int, int> LatchOf { get; }

    public static PortPins Of(Device device)
    {
        var pins = ImmutableArray.CreateBuilder<PortPin>();
        var direction = new Dictionary<int, int>();
        var latch = new Dictionary<int, int>();
        foreach (Register port in device.Registers)
        {
            string? letter =
                port.Name == "GPIO" ? "IO"
                : port.Name.StartsWith("PORT", StringComparison.Ordinal) ? port.Name[4..]
                : null;
            if (letter is null)
                continue;
            foreach (Register other in device.Registers)
            {
                if (other.Name == "TRIS" + letter)
                    direction[other.Address] = port.Address;
                else if (other.Name == "LAT" + letter)
                    latch[other.Address] = port.Address;
            }

            foreach (BitField bit in port.Bits.Reverse())
            {
                // Data sheets name the bits of GPIO GP0 in the pin diagram.
                string name = letter == "IO" ? FormattableString.Invariant($"GP{bit.Number}") : bit.Name;
                pins.Add(
                    new PortPin(
                        name,
                        device.Pins.FirstOrDefault(p => p.Functions.Contains(name)),
                        port.Address,
                        bit.Number,
                        device.OpenDrainPins.Contains(name),
                        device.InputOnlyPins.Contains(name)
                    )
                );
            }
        }

        return new PortPins(pins.ToImmutable(), direction, latch);
    }
}
