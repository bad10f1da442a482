using System.Collections.Immutable;
using AsmLsp.Core.Instructions;

namespace AsmLsp.Core.Readouts;

/// <summary>
/// How far two programs are apart. Words are put side by side by the shortest list of insertions and removals (E. W. Myers,
/// An O(ND) Difference Algorithm and Its Variations, 1986); targets of jumps and calls do not count there, because they move
/// with what is inserted.
/// </summary>
internal static class VersionDistance
{
    // Beyond this, two programs have too little in common to be two versions of one.
    private const int MostSteps = 1500;

    /// <summary>The changes that lead from the build to the read-out, or null where they are two programs.</summary>
    public static ImmutableArray<ChangedWords>? Of(ProgramWords build, ProgramWords readout)
    {
        int union = 0,
            same = 0;
        for (int address = 0; address <= Math.Max(build.LastProgrammed, readout.LastProgrammed); address++)
        {
            if (!build.IsProgrammed(address) && !readout.IsProgrammed(address))
                continue;
            union++;
            if (ProgramWords.Match(build.At(address), readout.At(address)))
                same++;
        }

        if (union == 0)
            return null;
        if (same * 2 >= union)
            return InPlace(build, readout);
        ImmutableArray<ChangedWords>? moved = Aligned(build, readout);
        return moved is { } changes && changes.Sum(static c => c.Count) * 2 <= union ? changes : null;
    }

    private static ImmutableArray<ChangedWords> InPlace(ProgramWords build, ProgramWords readout)
    {
        var changes = ImmutableArray.CreateBuilder<ChangedWords>();
        int last = Math.Max(build.LastProgrammed, readout.LastProgrammed);
        for (int address = 0; address <= last; address++)
        {
            int from = address;
            while (address <= last && !ProgramWords.Match(build.At(address), readout.At(address)))
                address++;
            if (address > from)
                changes.Add(new ChangedWords(from, address - from, address - from));
        }

        return changes.ToImmutable();
    }

    private static ImmutableArray<ChangedWords>? Aligned(ProgramWords build, ProgramWords readout)
    {
        int[] a = Keys(build),
            b = Keys(readout);
        int most = Math.Min(MostSteps, a.Length + b.Length);
        var trace = new List<int[]>();
        int[] reach = new int[2 * most + 3];
        for (int d = 0; d <= most; d++)
        {
            for (int k = -d; k <= d; k += 2)
            {
                int x =
                    k == -d || (k != d && reach[most + k] < reach[most + k + 2])
                        ? reach[most + k + 2]
                        : reach[most + k] + 1;
                while (x < a.Length && x - k < b.Length && a[x] == b[x - k])
                    x++;
                reach[most + k + 1] = x;
                if (x < a.Length || x - k < b.Length)
                    continue;
                return Back(trace, a.Length, b.Length, most);
            }

            trace.Add([.. reach]);
        }

        return null;
    }

    // From the end to the start along the reached points, then joined into runs.
    private static ImmutableArray<ChangedWords> Back(List<int[]> trace, int x, int y, int most)
    {
        var single = new Stack<(int At, bool IsRemoved)>();
        for (int d = trace.Count; d > 0; d--)
        {
            int[] reach = trace[d - 1];
            int k = x - y;
            bool down = k == -d || (k != d && reach[most + k] < reach[most + k + 2]);
            int before = down ? k + 1 : k - 1;
            x = reach[most + before + 1];
            y = x - before;
            single.Push((x, !down));
        }

        var changes = ImmutableArray.CreateBuilder<ChangedWords>();
        foreach ((int at, bool isRemoved) in single)
        {
            if (changes.Count > 0 && changes[^1] is var last && last.Address + last.Removed == at)
                changes[^1] = isRemoved
                    ? last with
                    {
                        Removed = last.Removed + 1,
                    }
                    : last with
                    {
                        Added = last.Added + 1,
                    };
            else
                changes.Add(new ChangedWords(at, isRemoved ? 1 : 0, isRemoved ? 0 : 1));
        }

        return changes.ToImmutable();
    }

    private static int[] Keys(ProgramWords words)
    {
        int[] keys = new int[words.LastProgrammed + 1];
        for (int address = 0; address < keys.Length; address++)
        {
            ushort word = words.At(address);
            keys[address] = InstructionSet.Decode(word) is { Instruction: { IsCall: true } or { IsJump: true } } decoded
                ? decoded.Instruction.Pattern
                : word;
        }

        return keys;
    }
}
