using AsmLsp.Core.Flow;
using AsmLsp.Core.Instructions;

namespace AsmLsp.Core.Explain;

/// <summary>Instruction cycles of a few words in a row, for people.</summary>
internal static class CycleText
{
    private const int ProgramCounterLow = 2;

    /// <summary>The cycles of words, from the fewest to the most: a skip counts once, and what it skips may be left out.</summary>
    public static string Of(ExplainContext context, List<(int Address, int Word)> words)
    {
        (int least, int most) = Range(words);
        string cycles = least == most ? (most == 1 ? "1 cycle" : $"{most} cycles") : $"{least} to {most} cycles";
        string count = words.Count == 1 ? "1 word" : $"{words.Count} words";
        if (context.Clock is not { } clock)
            return $"{count}, {cycles}";
        string time = least == most ? clock.Time(most) : $"{clock.Time(least)} to {clock.Time(most)}";
        return $"{count}, {cycles} ({time} at {clock.Rate})";
    }

    /// <summary>Whether an instruction writes PCL, and so jumps.</summary>
    public static bool WritesProgramCounter(in DecodedInstruction decoded) =>
        decoded.First == ProgramCounterLow
        && decoded.Instruction.Operands switch
        {
            OperandKind.Register => true,
            OperandKind.RegisterDestination => decoded.Second == 1,
            OperandKind.RegisterBit => !decoded.Instruction.MaySkip,
            _ => false,
        };

    /// <summary>Fewest and most cycles when the words run from the first to the last; jumps in them end the run.</summary>
    public static (int Least, int Most) Range(List<(int Address, int Word)> words)
    {
        var least = new int[words.Count + 2];
        var most = new int[words.Count + 2];
        for (int i = words.Count - 1; i >= 0; i--)
        {
            if (InstructionSet.Decode(words[i].Word) is not { } decoded)
                continue;
            Instruction instruction = decoded.Instruction;
            if (instruction.MaySkip)
            {
                least[i] = Math.Min(1 + least[i + 1], 2 + least[i + 2]);
                most[i] = Math.Max(1 + most[i + 1], 2 + most[i + 2]);
                continue;
            }

            bool ends = instruction.IsJump || instruction.IsReturn;
            int cycles = WritesProgramCounter(decoded) ? 2 : instruction.Cycles;
            least[i] = cycles + (ends ? 0 : least[i + 1]);
            most[i] = cycles + (ends ? 0 : most[i + 1]);
        }

        return (least[0], most[0]);
    }
}
