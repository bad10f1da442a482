using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Flow;
using AsmLsp.Core.Hex;
using AsmLsp.Core.Instructions;

namespace AsmLsp.Core.Readouts;

/// <summary>Which routine a word belongs to: by the program where there is one, else by the calls among the words.</summary>
internal sealed class RoutineNames
{
    private readonly List<(int First, int Last, string Name)> routines = [];

    /// <summary>Collects where routines start and end.</summary>
    public RoutineNames(WordMemory build, ProgramAnalysis? program)
    {
        if (program is not null)
        {
            FlowGraph flow = FlowGraph.Of(program);
            foreach (int address in flow.RoutineAddresses)
            {
                if (flow.Routine(address) is { } facts)
                    routines.Add((address, facts.Last, facts.Label ?? Plain(address)));
            }

            return;
        }

        // Beyond 2048 words a call's page is in PCLATH, which the words alone do not say for certain.
        if (build.Any(static c => c.Key is >= 2048 and < HexAreas.Identification))
            return;
        foreach ((int address, ushort word) in build)
        {
            if (address >= HexAreas.Identification)
                break;
            if (InstructionSet.Decode(word) is { Instruction.IsCall: true } call)
                routines.Add((call.First, EndOf(build, call.First), Plain(call.First)));
        }
    }

    /// <summary>The routine that an address lies in, or null where that is not known.</summary>
    public string? Of(int address) =>
        routines
            .Where(r => address >= r.First && address <= r.Last)
            .OrderBy(r => r.Last - r.First)
            .FirstOrDefault()
            .Name;

    // The first return that no skip goes around.
    private static int EndOf(WordMemory build, int first)
    {
        bool skipped = false;
        for (int address = first; build[address] is { } word; address++)
        {
            DecodedInstruction? decoded = InstructionSet.Decode(word);
            if (!skipped && decoded is { Instruction: { IsReturn: true } or { IsJump: true } })
                return address;
            skipped = decoded?.Instruction.MaySkip == true;
        }

        return first;
    }

    private static string Plain(int address) =>
        string.Create(CultureInfo.InvariantCulture, $"the routine at 0x{address:X4}");
}
