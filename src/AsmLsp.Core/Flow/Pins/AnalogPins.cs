using System.Collections.Immutable;
using System.Globalization;
using AsmLsp.Core.Devices;

namespace AsmLsp.Core.Flow.Pins;

/// <summary>
/// Which pins an analog part owns, by what the registers hold that choose it. ANSEL: a bit a pin. ADCON1: the table of the data sheets
/// (DS30292C, register 11-2; DS30272, figure 7-2; from memory). CMCON: 7 in its low bits switches comparators off (DS40300C, figure 9-1).
/// </summary>
internal sealed class AnalogPins
{
    private const int ComparatorsOff = 7;

    // For each value of PCFG3:0 the channels AN7..AN0 that are analog or a reference; values below 8 are those of PCFG2:0.
    private static readonly byte[] ByPortConfiguration =
    [
        0xFF,
        0xFF,
        0x1F,
        0x1F,
        0x0B,
        0x0B,
        0x00,
        0x00,
        0xFF,
        0x3F,
        0x3F,
        0x3F,
        0x1F,
        0x0F,
        0x01,
        0x0D,
    ];

    // The same for PCFG1:0 of the small chips.
    private static readonly byte[] ByTwoBits = [0x0F, 0x0F, 0x03, 0x00];

    private readonly PinRegisters registers;
    private readonly List<(NotDigitalAtReset Owner, int Register, int Freed)> owners = [];

    public AnalogPins(PinRegisters registers)
    {
        this.registers = registers;
        foreach (NotDigitalAtReset owner in registers.Device.NotDigitalAtReset)
        foreach ((int register, int freed) in Freeing(owner))
            owners.Add((owner, register, freed));
    }

    /// <summary>Whether a pin is analog with these registers; null where that is not known. False too where nothing can make it so.</summary>
    public bool? IsAnalog(string name, ImmutableArray<string> functions, KnownBits[] state)
    {
        bool? any = false;
        foreach ((NotDigitalAtReset owner, int register, int freed) in owners)
        {
            bool? here = One(owner, register, freed, name, functions, state[register]);
            if (here == true)
                return true;
            if (here is null)
                any = null;
        }

        return any;
    }

    private bool? One(
        NotDigitalAtReset owner,
        int number,
        int freed,
        string name,
        ImmutableArray<string> functions,
        KnownBits value
    )
    {
        Register register = registers.All[number]!;
        if (register.Name.StartsWith("ANSEL", StringComparison.Ordinal))
        {
            foreach (BitField bit in register.Bits)
                if (Chooses(bit.Name, name, functions))
                    return Of(value, 1 << bit.Number);
            return false;
        }

        if (!owner.Pins.Contains(name))
            return false;
        if (register.Name.StartsWith("CMCON", StringComparison.Ordinal))
            return (value.One & ComparatorsOff) != ComparatorsOff ? true
                : (value.Zero & ComparatorsOff) == 0 ? false
                : null;
        int bits = register.Bits.Count(static b => b.Name.StartsWith("PCFG", StringComparison.Ordinal));
        int mask = (1 << bits) - 1;
        if ((value.Open & mask) != 0 || ((value.Zero | value.One) & mask) != mask)
            return null;
        int choice = value.One & mask;
        if (choice == (freed & mask))
            return false;
        byte[]? table = bits switch
        {
            2 => ByTwoBits,
            3 or 4 when freed == 6 => ByPortConfiguration,
            _ => null,
        };
        return table is not null && Channel(functions) is { } channel and < 8
            ? (table[choice] >> channel & 1) != 0
            : null;
    }

    private static bool? Of(KnownBits value, int mask) =>
        (value.One & mask) == 0 ? false
        : (value.Zero & mask) == 0 ? true
        : null;

    // ANS3 is the bit of the channel AN3, ANSA3 that of the pin RA3.
    private static bool Chooses(string bit, string name, ImmutableArray<string> functions) =>
        bit.StartsWith("ANS", StringComparison.Ordinal)
        && (functions.Contains("AN" + bit[3..]) || (bit.Length == 5 && name == "R" + bit[3..]));

    private static int? Channel(ImmutableArray<string> functions)
    {
        foreach (string function in functions)
            if (
                function.StartsWith("AN", StringComparison.Ordinal)
                && int.TryParse(function.AsSpan(2), NumberStyles.None, CultureInfo.InvariantCulture, out int channel)
            )
                return channel;
        return null;
    }

    // The registers that the freeing lines of the chip's facts write, and the value that frees the pins.
    private IEnumerable<(int Register, int Value)> Freeing(NotDigitalAtReset owner)
    {
        int w = 0;
        foreach (string line in owner.Code)
        {
            string[] words = line.Split(';')[0].Split([' ', '\t', ','], StringSplitOptions.RemoveEmptyEntries);
            if (words.Length < 2)
                continue;
            if (words[0] == "movlw" && words[1].StartsWith("0x", StringComparison.Ordinal))
                w = int.Parse(words[1].AsSpan(2), NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture);
            else if (words[0] is "movwf" or "clrf" && registers.Find(words[1]) is > 0 and int register)
                yield return (register, words[0] == "movwf" ? w : 0);
        }
    }
}
