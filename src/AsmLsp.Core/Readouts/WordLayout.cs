using AsmLsp.Core.Hex;

namespace AsmLsp.Core.Readouts;

/// <summary>Recognizes words that were read in another layout: bytes swapped, words shifted, one half of each word only.</summary>
internal static class WordLayout
{
    private const int MostShift = 8;

    // Fewer words than this match anything by chance.
    private const int LeastEvidence = 4;

    /// <summary>Whether a read-out has the two bytes of each word swapped, judged by the build.</summary>
    public static bool IsSwapped(ProgramWords build, WordMemory readout)
    {
        ProgramWords plain = ProgramWords.Of(readout);
        return Share(build, ProgramWords.Of(readout, Swap)) is var swapped
            && swapped >= 0.9
            && swapped > Share(build, plain);
    }

    /// <summary>Whether a file by itself looks swapped: its words have more than 14 bits, and swapped all of them fit.</summary>
    public static bool LooksSwapped(WordMemory readout)
    {
        int wide = 0,
            count = 0;
        foreach ((int address, ushort word) in readout)
        {
            if (address >= HexAreas.Identification)
                break;
            if (Swap(word) > 0x3FFF && word != 0xFFFF)
                return false;
            count++;
            wide += word > 0x3FFF && word != 0xFFFF ? 1 : 0;
        }

        return count >= LeastEvidence && wide > 0;
    }

    /// <summary>A word with its two bytes swapped.</summary>
    public static ushort Swap(ushort word) => (ushort)((word >> 8) | (word << 8));

    /// <summary>By how many words a read-out lies higher than the build, or 0.</summary>
    public static int ShiftOf(ProgramWords build, ProgramWords readout)
    {
        double here = Share(build, readout);
        for (int distance = 1; distance <= MostShift; distance++)
        {
            foreach (int shift in (ReadOnlySpan<int>)[distance, -distance])
            {
                int inside = 0,
                    same = 0;
                for (int address = 0; address <= build.LastProgrammed; address++)
                {
                    // The first words are lost where a read-out lies lower.
                    if (!build.IsProgrammed(address) || address + shift < 0)
                        continue;
                    inside++;
                    same += build.At(address) == readout.At(address + shift) ? 1 : 0;
                }

                if (inside >= LeastEvidence && same >= 0.9 * inside && same > here * build.Programmed)
                    return shift;
            }
        }

        return 0;
    }

    /// <summary>
    /// Which half of each word a file of single bytes holds: <c>low</c>, <c>high</c>, or null where it is neither. Such a file
    /// reads as words of which each holds the halves of two.
    /// </summary>
    public static string? HalfOf(ProgramWords build, ProgramWords readout)
    {
        foreach ((string name, int move) in (ReadOnlySpan<(string, int)>)[("low", 0), ("high", 8)])
        {
            int count = 0,
                same = 0;
            for (int address = 0; address <= build.LastProgrammed; address++)
            {
                if (!build.IsProgrammed(address) || !readout.Has(address / 2))
                    continue;
                count++;
                int held = (readout.At(address / 2) >> (address % 2 * 8)) & 0xFF;
                same += held == ((build.At(address) >> move) & 0xFF) ? 1 : 0;
            }

            if (count >= 2 * LeastEvidence && same >= 0.9 * count)
                return name;
        }

        return null;
    }

    /// <summary>
    /// The same for a file by itself: it fills half of the chip, and either no byte is above the 6 bits of a high half, or words
    /// have more bits than a word can have.
    /// </summary>
    public static string? LooksLikeHalf(ProgramWords words, int size)
    {
        if (!words.IsWhole || (words.Last + 1) * 2 != size)
            return null;
        bool isHigh = true,
            isWide = false;
        for (int address = 0; address <= words.Last; address++)
        {
            int word = words.Raw(address);
            isHigh &= (word & 0xC0C0) == 0;
            isWide |= word is > 0x3FFF and < 0xFFFF;
        }

        return isHigh ? "high"
            : isWide ? "low"
            : null;
    }

    /// <summary>Whether the words of a read-out lie at twice their addresses, with nothing or erased words between.</summary>
    public static bool IsSpread(ProgramWords build, ProgramWords readout)
    {
        int count = 0,
            same = 0;
        for (int address = 0; address <= build.LastProgrammed; address++)
        {
            if (!build.IsProgrammed(address) || !readout.Has(address * 2))
                continue;
            count++;
            same += build.At(address) == readout.At(address * 2) ? 1 : 0;
        }

        return count >= 2 * LeastEvidence && same >= 0.9 * count && Share(build, readout) < 0.5;
    }

    private static double Share(ProgramWords build, ProgramWords readout)
    {
        int same = 0;
        for (int address = 0; address <= build.LastProgrammed; address++)
            same += build.IsProgrammed(address) && build.At(address) == readout.At(address) ? 1 : 0;
        return build.Programmed < LeastEvidence ? 0 : same / (double)build.Programmed;
    }
}
