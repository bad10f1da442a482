using AsmLsp.Core.Devices;

namespace AsmLsp.Core.Execution;

/// <summary>
/// The file registers as the chip's wiring has them: repeats in other banks, bits and addresses that are not there. A chip
/// that is not known has four banks with the registers of the core in each, and memory everywhere else.
/// </summary>
internal sealed class DataSpace
{
    public const int Indirect = 0,
        ProgramCounterLow = 2,
        Status = 3,
        Pointer = 4,
        Latch = 0x0A,
        InterruptControl = 0x0B,
        Option = 0x81;
    private const int BankSize = 0x80,
        UnknownBanks = 4,
        LatchBits = 0x1F;

    private readonly Device? device;
    private readonly short[] canonical;
    private readonly byte[] present;
    private readonly byte[] values;

    public DataSpace(Device? device)
    {
        this.device = device;
        int banks = device?.DataMemory.BankCount ?? UnknownBanks;
        canonical = new short[banks * BankSize];
        present = new byte[canonical.Length];
        values = new byte[canonical.Length];
        IsSpecial = new bool[canonical.Length];
        for (int address = 0; address < canonical.Length; address++)
        {
            int offset = address % BankSize;
            bool isCore = offset is ProgramCounterLow or Status or Pointer or Latch or InterruptControl;
            canonical[address] =
                isCore ? (short)offset
                : device is null ? (short)address
                : device.DataMemory.IsImplemented(address) ? (short)device.DataMemory.Canonical(address)
                : (short)-1;
            Register? register = device?.DataMemory.RegisterAt(address);
            present[address] = (byte)(isCore ? 0xFF : register?.PresentMask ?? 0xFF);
            IsSpecial[address] = register is not null && !isCore;
        }

        present[Latch] = LatchBits;
    }

    /// <summary>Whether an address is a special function register beside those of the core.</summary>
    public bool[] IsSpecial { get; }

    /// <summary>The lowest address of the same byte, or -1 where there is none; bank bits that the chip does not have are ignored.</summary>
    public int Canonical(int address) => canonical[address & (canonical.Length - 1)];

    public int this[int at]
    {
        get => values[at];
        set => values[at] = (byte)(value & present[at]);
    }

    public int Present(int at) => present[at];

    /// <summary>The values after power-on; memory and unknown bits keep what they had.</summary>
    public void PowerOn()
    {
        if (device is not null)
            foreach (Register register in device.Registers)
            {
                int at = Canonical(register.Address);
                if (at >= 0)
                    values[at] = (byte)((values[at] & ~register.PowerOnKnownMask) | register.PowerOnValue);
            }

        // Reference manual DS33023, "Reset": PCLATH and PCL 0; RP, IRP, 0; TO and PD 1.
        values[Status] = (byte)(0x18 | (values[Status] & 7));
        values[Latch] = 0;
        values[InterruptControl] &= 1;
    }
}
