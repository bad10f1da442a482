using AsmLsp.Core.Devices;
using AsmLsp.Core.Hex;
using AsmLsp.Core.Instructions;

namespace AsmLsp.Core.Readouts;

/// <summary>The words of program memory by address, for questions about the whole of them.</summary>
internal sealed class ProgramWords
{
    private const ushort Erased = 0x3FFF;

    private readonly ushort?[] words = new ushort?[HexAreas.Identification];

    private ProgramWords() { }

    /// <summary>How many words are there, erased ones included.</summary>
    public int Present { get; private set; }

    /// <summary>How many are programmed.</summary>
    public int Programmed { get; private set; }

    /// <summary>How many are 0.</summary>
    public int Zero { get; private set; }

    /// <summary>The lowest address that is there, or -1.</summary>
    public int First { get; private set; } = -1;

    /// <summary>The highest address that is there, or -1.</summary>
    public int Last { get; private set; } = -1;

    /// <summary>The highest address that is programmed, or -1.</summary>
    public int LastProgrammed { get; private set; } = -1;

    /// <summary>Whether every address from 0 to the last is there, as in a read-out of a whole chip.</summary>
    public bool IsWhole => First == 0 && Present == Last + 1;

    /// <summary>The words of a memory.</summary>
    public static ProgramWords Of(WordMemory memory) => Of(memory, static word => word);

    /// <summary>The words of a memory, each changed first.</summary>
    public static ProgramWords Of(WordMemory memory, Func<ushort, ushort> change)
    {
        var all = new ProgramWords();
        foreach ((int address, ushort raw) in memory)
        {
            if (address >= HexAreas.Identification)
                break;
            ushort word = change(raw);
            all.words[address] = word;
            all.Present++;
            all.Zero += word == 0 ? 1 : 0;
            all.First = all.First < 0 ? address : all.First;
            all.Last = address;
            if (word is Erased or 0xFFFF)
                continue;
            all.Programmed++;
            all.LastProgrammed = address;
        }

        return all;
    }

    /// <summary>Whether a word is in the file.</summary>
    public bool Has(int address) => (uint)address < (uint)words.Length && words[address] is not null;

    /// <summary>The word at an address; an absent one counts as erased.</summary>
    public ushort At(int address) =>
        (uint)address < (uint)words.Length && words[address] is { } word && word != 0xFFFF ? word : Erased;

    /// <summary>The word at an address as it is in the file; an absent one counts as erased.</summary>
    public ushort Raw(int address) => words[address] ?? Erased;

    /// <summary>Whether the word at an address is programmed.</summary>
    public bool IsProgrammed(int address) => At(address) != Erased;

    /// <summary>Whether two words do the same: the bits that the chip ignores do not count.</summary>
    public static bool Match(ushort a, ushort b) =>
        a == b
        || (
            InstructionSet.Decode(a) is { } one
            && InstructionSet.Decode(b) is { } other
            && one.Instruction == other.Instruction
            && (one.First, one.Second) == (other.First, other.Second)
        );

    /// <summary>
    /// Where the memory repeats from, or 0: a chip that is read as a larger one answers every address with the low bits of it.
    /// </summary>
    public int RepeatsFrom()
    {
        for (int size = 512; size <= Last; size *= 2)
        {
            if (!IsWhole || (Last + 1) % size != 0 || Last + 1 == size || Programmed == 0)
                continue;
            bool repeats = true;
            for (int address = size; address <= Last && repeats; address++)
                repeats = At(address) == At(address - size);
            if (repeats)
                return size;
        }

        return 0;
    }

    /// <summary>The chips whose device ID a word is.</summary>
    public static IEnumerable<Device> ChipsOf(ushort identity)
    {
        if (identity is 0 or Erased or 0xFFFF)
            yield break;
        foreach (string name in DeviceCatalog.Names)
        {
            if (
                DeviceCatalog.Find(name) is { Identity: { } known } device
                && ((known.Value ^ identity) & known.Mask) == 0
            )
                yield return device;
        }
    }
}
