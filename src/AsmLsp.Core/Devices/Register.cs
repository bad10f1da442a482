using System.Collections.Immutable;

namespace AsmLsp.Core.Devices;

/// <summary>A special function register of a chip, as its data sheet's register table has it.</summary>
public sealed class Register
{
    internal Register(
        string name,
        ImmutableArray<string> otherNames,
        ImmutableArray<int> addresses,
        string powerOn,
        string[] bitNames,
        string? description
    )
    {
        Name = name;
        OtherNames = otherNames;
        Addresses = addresses;
        PowerOn = powerOn;
        Description = description ?? RegisterMeanings.Of(name);
        var bits = ImmutableArray.CreateBuilder<BitField>(8);
        for (int i = 0; i < bitNames.Length; i++)
        {
            if (bitNames[i] is "?")
                ReservedMask |= 1 << (7 - i);
            else if (bitNames[i] is not "-")
                bits.Add(new BitField(bitNames[i], 7 - i, this));
        }

        Bits = bits.ToImmutable();
    }

    /// <summary>The name in the data sheet.</summary>
    public string Name { get; }

    /// <summary>Other names that programs use for the same register.</summary>
    public ImmutableArray<string> OtherNames { get; }

    /// <summary>Every data-memory address (0..0x1FF) where the register shows, lowest first: the first is where it lives, the others are its repeats in other banks.</summary>
    public ImmutableArray<int> Addresses { get; }

    /// <summary>The first of <see cref="Addresses"/>.</summary>
    public int Address => Addresses[0];

    /// <summary>
    /// The value after power-on, eight characters from bit 7 to bit 0: <c>0</c>, <c>1</c>, <c>x</c> unknown,
    /// <c>q</c> depends on the cause of the reset, <c>-</c> not there (reads 0), <c>r</c> reserved.
    /// </summary>
    public string PowerOn { get; }

    /// <summary>The bits that have a name, from bit 7 down; empty for a register that is one number.</summary>
    public ImmutableArray<BitField> Bits { get; }

    /// <summary>Bits that the data sheet reserves: keep them as they are.</summary>
    public int ReservedMask { get; }

    /// <summary>A few words on what the register is for; may be empty.</summary>
    public string Description { get; }

    /// <summary>The bits that exist: 1 where <see cref="PowerOn"/> has no <c>-</c>.</summary>
    public int PresentMask => MaskWhere(static c => c != '-');

    /// <summary>The value after power-on with every unknown bit as 0.</summary>
    public int PowerOnValue => MaskWhere(static c => c == '1');

    /// <summary>The bits whose value after power-on is known for certain.</summary>
    public int PowerOnKnownMask => MaskWhere(static c => c is '0' or '1');

    /// <summary>The named bit at a bit number (0..7), or null.</summary>
    public BitField? Bit(int number)
    {
        foreach (BitField bit in Bits)
        {
            if (bit.Number == number)
                return bit;
        }

        return null;
    }

    /// <summary>The name.</summary>
    public override string ToString() => Name;

    private int MaskWhere(Func<char, bool> which)
    {
        int mask = 0;
        for (int i = 0; i < 8; i++)
        {
            if (which(PowerOn[i]))
                mask |= 0x80 >> i;
        }

        return mask;
    }
}

/// <summary>A named bit of a register.</summary>
public sealed class BitField
{
    internal BitField(string name, int number, Register register)
    {
        Name = name;
        Number = number;
        Register = register;
    }

    /// <summary>The name in the data sheet; a leading <c>/</c> means the bar over an active-low bit.</summary>
    public string Name { get; }

    /// <summary>The bit number, 0 (worth 1) to 7 (worth 128).</summary>
    public int Number { get; }

    /// <summary>The register that the bit is in.</summary>
    public Register Register { get; }

    /// <summary>Whether the data sheet writes the bit with a bar: 0 means yes.</summary>
    public bool IsActiveLow => Name[0] == '/';

    /// <summary>How programs spell the bit, the usual spelling first.</summary>
    public ImmutableArray<string> Spellings => BitSpellings.Of(this);

    /// <summary>A few words on what the bit does; may be empty.</summary>
    public string Description => BitMeanings.Of(this);

    /// <summary>Register and bit as programs write them: <c>STATUS,Z</c>.</summary>
    public override string ToString() => $"{Register.Name},{Spellings[0]}";
}
