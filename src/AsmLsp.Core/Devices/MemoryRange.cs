namespace AsmLsp.Core.Devices;

/// <summary>Addresses from <paramref name="First"/> to <paramref name="Last"/>, both included.</summary>
/// <param name="First">The lowest address of the range.</param>
/// <param name="Last">The highest address of the range.</param>
public readonly record struct MemoryRange(int First, int Last)
{
    /// <summary>How many addresses the range holds.</summary>
    public int Length => Last - First + 1;

    /// <summary>Whether an address lies in the range.</summary>
    public bool Contains(int address) => address >= First && address <= Last;
}

/// <summary>Data memory that shows again, byte for byte, what another address holds.</summary>
/// <param name="Range">The addresses that repeat.</param>
/// <param name="SameAs">The address that the first address of the range repeats.</param>
public readonly record struct MirroredRange(MemoryRange Range, int SameAs);
