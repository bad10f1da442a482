using AsmLsp.Core.Flow.Checks;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Flow.Traps;

/// <summary>
/// A register of memory that is read, on every path from the reset, before anything writes it. After power-up memory holds any value (data
/// sheet DS35007B, table 6-3): as an index of a table that means a jump to a random place.
/// </summary>
/// <remarks>
/// Follows all registers at once, a bit each: those that some path has not touched yet. What may be written first on any path, through
/// FSR, or in an interrupt is left alone.
/// </remarks>
internal sealed class ReadBeforeWriteCheck : TrapCheck
{
    public override void Run(TrapContext context, FlowReport report)
    {
        if (context.HasWildJump || context.Graph.Calls.Main is not { } main || context.Device is not { } device)
            return;
        // The registers that are read at all, each with its number among them.
        var registers = new List<int>();
        var numbers = new int[0x200];
        Array.Fill(numbers, -1);
        for (int register = 0; register < 0x200; register++)
        {
            if (!device.DataMemory.IsGeneralPurpose(register) || !IsRead(context, register))
                continue;
            numbers[register] = registers.Count;
            registers.Add(register);
        }

        if (registers.Count == 0)
            return;
        var found = new Search(context, numbers, registers.Count);
        found.Follow(main.Address);
        foreach (int register in registers)
        {
            int number = numbers[register];
            if (found.FirstRead(number) is not { } read || found.IsWrittenFirst(number))
                continue;
            if (IsWrittenInInterrupt(context, register))
                continue;
            string name = context.RegisterName(read);
            string never = IsWrittenAnywhere(context, register)
                ? "before anything writes it"
                : "and nothing ever writes it";
            if (IsTableIndex(context, read))
                report.Add(Catalogue.TableIndexUnset, context.Graph, read, name, never);
            else
                report.Add(Catalogue.ReadBeforeWrite, context.Graph, read, name, never);
        }
    }

    private static bool IsRead(TrapContext context, int register)
    {
        foreach (int at in context.UsesOf(register))
            if (context.AccessAt(at).Reads)
                return true;
        return false;
    }

    private static bool IsWrittenInInterrupt(TrapContext context, int register)
    {
        foreach (int at in context.UsesOf(register))
            if (context.InInterrupt[at] && context.AccessAt(at).Writes)
                return true;
        return false;
    }

    private static bool IsWrittenAnywhere(TrapContext context, int register)
    {
        foreach (int at in context.UsesOf(register))
            if (context.AccessAt(at).IsFirstValue)
                return true;
        return false;
    }

    // MOVF n,w directly before the computed jump, or before the call of it, with nothing that limits the number.
    private static bool IsTableIndex(TrapContext context, int at)
    {
        if (context.At(at) is not { Instruction.Name: "movf", Second: 0 } || context.At(at + 1) is not { } after)
            return false;
        int jump = after.Instruction.IsCall ? context.Graph.Walk.TargetOf(at + 1) : at + 1;
        return context.At(jump) is { Instruction.Name: "addwf", Second: 1, First: TrapContext.ProgramCounterLow };
    }

    private sealed class Search
    {
        private readonly TrapContext context;
        private readonly int[] numbers;
        private readonly int parts;

        // Registers that a path to a word has not touched, a bit each.
        private readonly ulong[] untouched;
        private readonly bool[] isOpen;
        private readonly Queue<int> open = new();
        private readonly Dictionary<int, ulong[]> atReturn = [];
        private readonly int[] firstRead;
        private readonly ulong[] writtenFirst;

        public Search(TrapContext context, int[] numbers, int count)
        {
            (this.context, this.numbers) = (context, numbers);
            parts = (count + 63) / 64;
            untouched = new ulong[context.End * parts];
            isOpen = new bool[context.End];
            firstRead = new int[count];
            Array.Fill(firstRead, -1);
            writtenFirst = new ulong[parts];
        }

        public int? FirstRead(int number) => firstRead[number] < 0 ? null : firstRead[number];

        public bool IsWrittenFirst(int number) => (writtenFirst[number >> 6] & 1UL << (number & 63)) != 0;

        public void Follow(int start)
        {
            FlowWalk walk = context.Graph.Walk;
            CallGraph calls = context.Graph.Calls;
            var next = new List<int>();
            Span<ulong> all = stackalloc ulong[parts];
            all.Fill(ulong.MaxValue);
            Reach(start, all);
            Span<ulong> state = stackalloc ulong[parts];
            while (open.TryDequeue(out int at))
            {
                isOpen[at] = false;
                if (context.At(at) is not { } decoded)
                    continue;
                untouched.AsSpan(at * parts, parts).CopyTo(state);
                Touch(at, decoded, state);
                if (decoded.Instruction.IsReturn)
                {
                    if (calls.RoutinesOfReturn.TryGetValue(at, out List<RoutineBody>? ended))
                        foreach (RoutineBody routine in ended)
                            if (Join(routine.Address, state, out ulong[] joined))
                                foreach (int site in routine.CallSites)
                                    if (walk.Next(site + 1) is { } following)
                                        ReachAfterCall(site, following, joined);
                    continue;
                }

                if (decoded.Instruction.IsCall)
                {
                    if (calls.Routines.TryGetValue(walk.TargetOf(at), out RoutineBody? called))
                    {
                        Reach(called.Address, state);
                        if (
                            walk.Next(at + 1) is { } after
                            && atReturn.TryGetValue(called.Address, out ulong[]? returned)
                        )
                            ReachAfterCall(at, after, returned);
                    }

                    continue;
                }

                walk.Successors(at, next);
                foreach (int to in next)
                    Reach(to, state);
            }
        }

        // What all returns of a routine come to; false where one more adds nothing.
        private bool Join(int routine, ReadOnlySpan<ulong> state, out ulong[] joined)
        {
            bool changed = false;
            if (!atReturn.TryGetValue(routine, out ulong[]? known))
            {
                atReturn.Add(routine, known = new ulong[parts]);
                changed = true;
            }

            for (int i = 0; i < parts; i++)
            {
                changed |= (state[i] & ~known[i]) != 0;
                known[i] |= state[i];
            }

            joined = known;
            return changed;
        }

        private void Touch(int at, in DecodedInstruction decoded, Span<ulong> state)
        {
            if (decoded.First == TrapContext.Indirect && NamedRegister.Takes(decoded))
            {
                // Through FSR any register may be written.
                if (context.AccessAt(at).Writes)
                    for (int i = 0; i < parts; i++)
                        (writtenFirst[i], state[i]) = (writtenFirst[i] | state[i], 0);
                return;
            }

            RegisterAccess access = context.AccessAt(at);
            if (access.Register < 0)
            {
                if (access.Writes)
                    AnyBank(decoded.First, state);
                return;
            }

            int number = numbers[access.Register & 0x1FF];
            if (number < 0)
                return;
            int part = number >> 6;
            ulong bit = 1UL << (number & 63);
            if ((state[part] & bit) == 0)
                return;
            state[part] &= ~bit;
            // A bit that is set or cleared is a first value of a register of flags.
            if (access.IsFirstValue || (access.Writes && access.Mask != 0xFF))
                writtenFirst[part] |= bit;
            else if (firstRead[number] < 0 || at < firstRead[number])
                firstRead[number] = at;
        }

        private void AnyBank(int low, Span<ulong> state)
        {
            for (int register = low & 0x7F; register < 0x200; register += 0x80)
            {
                int number = numbers[register];
                if (number < 0)
                    continue;
                writtenFirst[number >> 6] |= 1UL << (number & 63);
                state[number >> 6] &= ~(1UL << (number & 63));
            }
        }

        // What the caller had touched before the call stays touched after it.
        private void ReachAfterCall(int site, int following, ReadOnlySpan<ulong> atReturn)
        {
            Span<ulong> both = stackalloc ulong[parts];
            for (int i = 0; i < parts; i++)
                both[i] = atReturn[i] & untouched[site * parts + i];
            Reach(following, both);
        }

        private void Reach(int address, ReadOnlySpan<ulong> state)
        {
            if (!context.Graph.Walk.Has(address))
                return;
            bool changed = false;
            Span<ulong> here = untouched.AsSpan(address * parts, parts);
            for (int i = 0; i < parts; i++)
            {
                ulong joined = here[i] | state[i];
                changed |= joined != here[i];
                here[i] = joined;
            }

            if (!changed || isOpen[address])
                return;
            isOpen[address] = true;
            open.Enqueue(address);
        }
    }
}
