using System.Collections.Immutable;

namespace AsmLsp.Core.Devices;

/// <summary>
/// The file registers of a chip: banks of 128 addresses with special function registers at the bottom and
/// general-purpose bytes above. Addresses are full data addresses, 0..0x7F in bank 0 to 0x180..0x1FF in bank 3.
/// </summary>
public sealed class DataMemory
{
    // For each address the lowest address that is the same byte, or -1 where there is nothing.
    private readonly short[] canonical;
    private readonly Register?[] registers;

    internal DataMemory(
        int bankCount,
        ImmutableArray<MemoryRange> generalPurpose,
        ImmutableArray<MirroredRange> mirrors,
        MemoryRange? common,
        ImmutableArray<MemoryRange> unimplemented,
        ImmutableArray<Register> registers
    )
    {
        BankCount = bankCount;
        GeneralPurposeRanges = generalPurpose;
        Mirrors = mirrors;
        CommonRam = common;
        Unimplemented = unimplemented;
        canonical = new short[bankCount * 128];
        this.registers = new Register?[canonical.Length];
        Array.Fill(canonical, (short)-1);
        foreach (MemoryRange range in generalPurpose)
        {
            for (int address = range.First; address <= range.Last; address++)
                canonical[address] = (short)address;
        }

        foreach (MirroredRange mirror in mirrors)
        {
            for (int i = 0; i < mirror.Range.Length; i++)
                canonical[mirror.Range.First + i] = (short)(mirror.SameAs + i);
        }

        foreach (Register register in registers)
        {
            foreach (int address in register.Addresses)
            {
                // SSPMSK answers at the address of SSPADD in one mode of the serial port: the first one means the address.
                canonical[address] = (short)register.Address;
                this.registers[address] ??= register;
            }
        }
    }

    /// <summary>Banks of 128 addresses: 2 or 4.</summary>
    public int BankCount { get; }

    /// <summary>General-purpose bytes, each byte once, at the address where it lives.</summary>
    public ImmutableArray<MemoryRange> GeneralPurposeRanges { get; }

    /// <summary>Addresses that show general-purpose bytes again.</summary>
    public ImmutableArray<MirroredRange> Mirrors { get; }

    /// <summary>The general-purpose bytes seen from every bank at the same offset, or null where the chip has none.</summary>
    public MemoryRange? CommonRam { get; }

    /// <summary>Addresses with neither register nor memory: a write vanishes, a read gives 0.</summary>
    public ImmutableArray<MemoryRange> Unimplemented { get; }

    /// <summary>How many general-purpose bytes the chip has.</summary>
    public int GeneralPurposeBytes
    {
        get
        {
            int bytes = 0;
            foreach (MemoryRange range in GeneralPurposeRanges)
                bytes += range.Length;
            return bytes;
        }
    }

    /// <summary>The first general-purpose address.</summary>
    public int FirstGeneralPurpose => GeneralPurposeRanges[0].First;

    /// <summary>The bank (0..3) that an address is in.</summary>
    public static int BankOf(int address) => (address >> 7) & 3;

    /// <summary>The lowest address that is the same byte (repeats in other banks folded); the address itself where nothing is there.</summary>
    public int Canonical(int address) =>
        (uint)address < (uint)canonical.Length && canonical[address] >= 0 ? canonical[address] : address;

    /// <summary>Whether an address holds a register or memory.</summary>
    public bool IsImplemented(int address) => (uint)address < (uint)canonical.Length && canonical[address] >= 0;

    /// <summary>Whether an address holds a general-purpose byte or shows one again.</summary>
    public bool IsGeneralPurpose(int address) => IsImplemented(address) && registers[address] is null;

    /// <summary>The special function register at an address, or null; the usual one where two share it (SSPADD, SSPMSK).</summary>
    public Register? RegisterAt(int address) => (uint)address < (uint)registers.Length ? registers[address] : null;

    /// <summary>
    /// Whether the offset of an address (its low 7 bits) means the same byte in every bank, so that the bank bits
    /// do not matter for it.
    /// </summary>
    public bool IsSameInEveryBank(int address)
    {
        int offset = address & 0x7F;
        if (!IsImplemented(offset))
            return false;
        for (int bank = 1; bank < BankCount; bank++)
        {
            int there = (bank << 7) | offset;
            if (!IsImplemented(there) || Canonical(there) != Canonical(offset))
                return false;
        }

        return true;
    }
}
