using AsmLsp.Core.Devices;
using AsmLsp.Core.Flow;
using AsmLsp.Core.Flow.Checks;
using AsmLsp.Core.Instructions;

namespace AsmLsp.Core.Replacement;

/// <summary>The comparison of both programs word by word, and bits that mean something else on the new chip.</summary>
internal sealed partial class ReplacementWork
{
    /// <summary>Compares all words; whatever is not the same, or follows what moved, is doubted on its line.</summary>
    public WordProof Prove()
    {
        int same = 0,
            moved = 0,
            jumps = 0,
            values = 0,
            open = 0;
        WordPairs pairs = WordPairs.Of(before, after, Draft);
        FlowGraph now = FlowGraph.Of(after);
        foreach (WordPair pair in pairs.Pairs)
        {
            DecodedInstruction? one = InstructionSet.Decode(pair.OldWord),
                other = InstructionSet.Decode(pair.NewWord);
            bool isReached = flow.ReachOf(pair.Old) != Reach.None;
            if (isReached && one is { } old && other is { } fresh && old.Instruction == fresh.Instruction)
            {
                if (NamedRegister.Takes(old))
                {
                    if (!Reaches(pair, old, fresh, now))
                        Open(
                            pair,
                            RegisterMap.AddressOf(flow, from, pair.Old, old) is { } address
                            && from.DataMemory.RegisterAt(address) is { } register
                            && map.FindRegister(register) is null
                                ? WithoutRegister(register)
                                : $"this line may reach another register on {to.Name}"
                        );
                    else if (pair.OldWord == pair.NewWord)
                        same++;
                    else
                        moved++;
                    continue;
                }

                if (old.Instruction.IsCall || old.Instruction.IsJump)
                {
                    int target = flow.Walk.TargetOf(pair.Old),
                        there = now.Walk.TargetOf(pair.New);
                    if (target >= 0 && pairs.NewOf.TryGetValue(target, out int expected))
                    {
                        // Lines that were put in before the target belong to it.
                        if (there == expected || LeadsTo(now, pairs, there, expected))
                            (same, jumps) = pair.OldWord == pair.NewWord ? (same + 1, jumps) : (same, jumps + 1);
                        else
                            Open(pair, "this jump leads elsewhere now");
                        continue;
                    }

                    if (target >= 0 && target == from.Calibration?.Address && target != to.Calibration?.Address)
                    {
                        Open(pair, $"this calls the factory's word of {from.Name}");
                        continue;
                    }
                }

                if (
                    pair.OldWord != pair.NewWord
                    && old.Instruction.Operands == OperandKind.Literal8
                    && IsMovedValue(old.First, fresh.First, pairs)
                )
                {
                    values++;
                    continue;
                }
            }

            if (pair.OldWord == pair.NewWord)
                same++;
            else if (
                one is { } a
                && other is { } b
                && a.Instruction == b.Instruction
                && a.Instruction.Name == "retlw"
                && IsMovedValue(a.First, b.First, pairs)
            )
                values++;
            else
                Open(pair, "this word is not the old one");
        }

        if (!pairs.IsComplete)
            Add(
                FindingKind.Doubt,
                "program",
                null,
                "The lines of both programs do not give the same number of words: compare them by hand."
            );
        Literals();
        NewProblems();
        return new WordProof(same, moved, jumps, values, pairs.Inserted, open, pairs.IsComplete);

        void Open(WordPair pair, string words)
        {
            open++;
            Doubt("registers", pair.OldLine, words);
        }
    }

    private string WithoutRegister(Register register) => $"{to.Name} has no register {register.Name}";

    /// <summary>Doubts instructions that touch bits with another meaning on the new chip.</summary>
    public void DoubtBits()
    {
        for (int at = 0; at < flow.End; at++)
        {
            if (
                flow.ReachOf(at) == Reach.None
                || flow.InstructionAt(at) is not { } decoded
                || !NamedRegister.Takes(decoded)
                || RegisterMap.AddressOf(flow, from, at, decoded) is not { } address
                || from.DataMemory.RegisterAt(address) is not { } register
            )
                continue;
            int line =
                before.Image.TryGet(at, out _, out Assembly.WordOrigin origin) && origin.Outermost.File == before.Root
                    ? origin.Outermost.Line
                    : -1;
            if (map.FindRegister(register) is not { } there)
            {
                Doubt("registers", line, WithoutRegister(register));
                continue;
            }

            bool isOneBit = decoded.Instruction.Operands == OperandKind.RegisterBit;
            // CLRF and reads of a whole register take all bits as they are.
            if (!isOneBit && decoded.Instruction.Name != "movwf")
                continue;
            for (int bit = 0; bit < 8; bit++)
            {
                if ((isOneBit && decoded.Second != bit) || register.Bit(bit) is not { } was)
                    continue;
                if (there.Bit(bit) is { } now && IsSameBit(was, now))
                    continue;
                if (!isOneBit && flow.StateAt(at).WBit(1 << bit) == false)
                    continue;
                Doubt(
                    "registers",
                    line,
                    there.Bit(bit) is { } other
                        ? $"bit {bit} of {register.Name} is {was.Name} on {from.Name} and {other.Name} on {to.Name}"
                        : $"bit {bit} of {register.Name} is {was.Name} on {from.Name}; {to.Name} does not have it there"
                );
                break;
            }
        }
    }

    // What the analysis of the new program warns of, and did not warn of before: a table that now crosses a border, a deeper stack.
    private void NewProblems()
    {
        if (after.HasErrors)
            return;
        HashSet<(string, int)> known = [.. FlowProblems.Find(before).Select(static p => (p.Code, p.Place.Line))];
        foreach (Problems.Problem problem in FlowProblems.Find(after))
        {
            int old = problem.Place.File.Name == Draft.File.Name ? Draft.OldLine(problem.Place.Line) : -1;
            if (!known.Contains((problem.Code, old)) && problem.Severity != Problems.Severity.Information)
                Doubt("program", old, problem.Message);
        }
    }

    // A constant that is an address of the old chip's memory, written as a number, does not move by itself.
    private void Literals()
    {
        if (map.Shift == 0)
            return;
        for (int at = 0; at + 1 < flow.End; at++)
        {
            if (
                flow.InstructionAt(at) is { Instruction.Name: "movlw" } literal
                && flow.InstructionAt(at + 1) is { Instruction.Name: "movwf", First: 4 }
                && before.Image.TryGet(at, out _, out Assembly.WordOrigin origin)
                && after.Image.Words.FirstOrDefault(w =>
                    w.Origin.Outermost.File.Name == Draft.File.Name
                    && Draft.OldLine(w.Origin.Outermost.Line) == origin.Outermost.Line
                )
                    is var moved
                && (moved.Word & 0xFF) == literal.First
                && from.DataMemory.IsGeneralPurpose(literal.First)
            )
                Doubt(
                    "memory",
                    origin.Outermost.File == before.Root ? origin.Outermost.Line : -1,
                    $"this number is an address of {from.Name}'s memory"
                );
        }
    }

    private static bool IsSameBit(BitField was, BitField now) =>
        was.Name == now.Name
        || was.Spellings.Intersect(now.Spellings, StringComparer.OrdinalIgnoreCase).Any()
        // Port pins and their directions have the name of their place.
        || (was.Number == now.Number && was.Register.Name == now.Register.Name && IsPort(was.Register.Name));

    private static bool IsPort(string name) =>
        name is "GPIO" or "TRISIO"
        || name.StartsWith("PORT", StringComparison.Ordinal)
        || name.StartsWith("TRIS", StringComparison.Ordinal);

    private bool Reaches(WordPair pair, in DecodedInstruction old, in DecodedInstruction fresh, FlowGraph now)
    {
        if (old.Second != fresh.Second && old.Instruction.Operands == OperandKind.RegisterBit)
            return false;
        if (old.Second != fresh.Second)
            return false;
        if (RegisterMap.AddressOf(flow, from, pair.Old, old) is not { } address || map.Find(address) is not { } wanted)
            return false;
        DataMemory memory = to.DataMemory;
        if (memory.IsSameInEveryBank(fresh.First))
            return memory.Canonical(fresh.First) == wanted;
        // On every path the bank is right; where the old bank was known by its name alone, the same name has to do.
        FlowState state = now.StateAt(pair.New);
        for (int bank = 0; bank < memory.BankCount; bank++)
        {
            if (state.MayBeBank(bank, memory.BankCount) && memory.Canonical((bank << 7) | fresh.First) != wanted)
                return false;
        }

        return state.IsReached;
    }

    private static bool LeadsTo(FlowGraph now, WordPairs pairs, int at, int expected)
    {
        var old = pairs.NewOf.Values.ToHashSet();
        while (at >= 0 && at < expected && !old.Contains(at))
            at++;
        return at == expected && now.ReachOf(expected) != Reach.None;
    }

    private bool IsMovedValue(int was, int now, WordPairs pairs) =>
        (from.DataMemory.IsGeneralPurpose(was) && now == was + map.Shift && map.Shift != 0)
        || pairs.Pairs.Any(p =>
            ((p.Old & 0xFF) == was && (p.New & 0xFF) == now) || (p.Old >> 8 == was && p.New >> 8 == now)
        )
        || (
            from.DataMemory.RegisterAt(was) is { } register
            && map.FindRegister(register) is { } there
            && (there.Address & 0xFF) == now
        );
}
