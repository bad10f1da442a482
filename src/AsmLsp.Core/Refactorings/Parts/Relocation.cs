using AsmLsp.Core.Assembly;
using AsmLsp.Core.Flow;
using AsmLsp.Core.Instructions;

namespace AsmLsp.Core.Refactorings.Parts;

/// <summary>
/// Proves that a program says the same after words were put in or taken out: all other words are there in the same order and are the same,
/// but for calls and jumps, which must go to where their old target is now. So <c>$-2</c> and plain numbers as targets show.
/// </summary>
internal static class Relocation
{
    private const int ProgramEnd = 0x2000,
        PageMask = 0x7FF;

    /// <summary>What is known to be different on purpose.</summary>
    /// <param name="IsTakenOut">Words of the old program that are gone.</param>
    /// <param name="IsPutIn">Words of the new program that are new.</param>
    public sealed record Change(Func<WordOrigin, bool> IsTakenOut, Func<WordOrigin, bool> IsPutIn)
    {
        /// <summary>Where jumps to an old address may go as well, by that address; beside what follows from the order.</summary>
        public IReadOnlyDictionary<int, int> Redirected { get; init; } = new Dictionary<int, int>();

        /// <summary>Words that must have become other ones, by their old address.</summary>
        public IReadOnlyDictionary<int, int> Replaced { get; init; } = new Dictionary<int, int>();
    }

    /// <summary>Whether the change is all that differs; then, for each old word that is still there, its new address.</summary>
    public static bool Holds(
        ProgramAnalysis before,
        ProgramAnalysis after,
        Change change,
        out Dictionary<int, int> addresses
    )
    {
        var old = before.Image.Words.Where(w => !change.IsTakenOut(w.Origin)).ToList();
        var now = after.Image.Words.Where(w => !change.IsPutIn(w.Origin)).ToList();
        addresses = new Dictionary<int, int>(old.Count);
        if (old.Count != now.Count)
            return false;
        for (int i = 0; i < old.Count; i++)
            addresses[old[i].Address] = now[i].Address;
        var moved = new Dictionary<int, int>(addresses);
        foreach ((int from, int to) in change.Redirected)
            moved[from] = to;
        FlowGraph graph = FlowGraph.Of(before);
        // Where the chip goes by itself, the same has to hold.
        int reset = before.Device?.ResetVector ?? 0,
            interrupt = before.Device?.InterruptVector ?? 4;
        if (
            moved.GetValueOrDefault(reset, reset) != reset
            || (graph.HasInterrupt && moved.GetValueOrDefault(interrupt, interrupt) != interrupt)
        )
            return false;
        for (int i = 0; i < old.Count; i++)
        {
            (int address, int word) = (old[i].Address, old[i].Word);
            if (address >= ProgramEnd)
            {
                if (now[i].Address != address || now[i].Word != word)
                    return false;
                continue;
            }

            if (change.Replaced.TryGetValue(address, out int wanted))
                word = wanted;
            if (
                InstructionSet.Decode(word) is { } decoded
                && (decoded.Instruction.IsCall || decoded.Instruction.IsJump)
            )
            {
                int target =
                    graph.ReachOf(address) != Reach.None && graph.Walk.TargetOf(address) is >= 0 and int known
                        ? known
                        : (address & ~PageMask) | decoded.First;
                // A jump to a word that is gone would go somewhere else; one to a place without a word goes where it went.
                if (!addresses.TryGetValue(target, out int there))
                {
                    if (before.Image.TryGet(target, out _, out _))
                        return false;
                    there = target;
                }

                word = (word & ~PageMask) | (there & PageMask);
                if (
                    change.Redirected.TryGetValue(target, out int other)
                    && now[i].Word == ((word & ~PageMask) | (other & PageMask))
                )
                    continue;
            }

            if (now[i].Word != word)
                return false;
        }

        return true;
    }
}
