using AsmLsp.Core.Hex;

namespace AsmLsp.Core.Readouts;

/// <summary>Read-outs that were saved as two files of single bytes.</summary>
public static class ReadoutHalves
{
    /// <summary>Puts two files of bytes together: the low halves of the words, and the high ones.</summary>
    public static WordMemory Join(WordMemory low, WordMemory high)
    {
        ArgumentNullException.ThrowIfNull(low);
        ArgumentNullException.ThrowIfNull(high);
        var words = new Dictionary<int, ushort>();
        foreach ((int address, ushort pair) in low)
        {
            if (high[address] is not { } above)
                continue;
            words[Clip(address * 2)] = (ushort)((pair & 0xFF) | ((above & 0xFF) << 8));
            words[Clip(address * 2 + 1)] = (ushort)((pair >> 8) | (above & 0xFF00));
        }

        return WordMemory.From(words);

        static int Clip(int address) => address & 0xFFFF;
    }
}
