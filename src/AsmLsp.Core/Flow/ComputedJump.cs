using AsmLsp.Core.Execution;

namespace AsmLsp.Core.Flow;

/// <summary>
/// Where an instruction that writes PCL jumps, as the straight run of words in front of it says: into the words after it, into a table
/// whose address it builds in W and PCLATH, or to one place.
/// </summary>
/// <param name="First">The address that an index of 0 gives.</param>
/// <param name="Entries">How many places follow from there, at most.</param>
/// <param name="IsAdded">Whether W is added to the program counter; else W holds the address.</param>
internal readonly record struct ComputedJump(int First, int Entries, bool IsAdded)
{
    private const int LongestRun = 16,
        AnyIndex = 256,
        PageOfLatch = 0x100;

    // What W holds: a number; an unknown index of which the largest is known; or an unknown index added to a number.
    private enum Content
    {
        Number,
        Index,
        Added,
    }

    /// <summary>The jump of the instruction at an address, or null where the words do not say.</summary>
    public static ComputedJump? Of(FlowWalk walk, int address)
    {
        (Content content, int value, int? latch) = Before(walk, address);
        DecodedStep step = walk.StepAt(address);
        int mask = walk.Limit - 1;
        switch (step.Operation)
        {
            case Operation.Addwf:
                return new(address + 1, content == Content.Added ? AnyIndex : value + 1, true);
            case Operation.Incf when InPage(address + 2) is { } next:
                return new(next, 1, false);
            case Operation.Clrf when latch is { } page:
                return new((page * PageOfLatch) & mask, 1, false);
            case Operation.Movwf when content == Content.Number && latch is { } page:
                return new((page * PageOfLatch + value) & mask, 1, false);
            case Operation.Movwf when content == Content.Added:
                int? first = latch is { } known ? (known * PageOfLatch + value) & mask : OnlyTable(walk, value);
                return first is { } at ? new(at, AnyIndex, false) : null;
            default:
                return null;
        }

        int? InPage(int at) => latch is null || (latch * PageOfLatch & mask) == (at & mask & ~0xFF) ? at : null;
    }

    private static (Content Content, int Value, int? Latch) Before(FlowWalk walk, int address)
    {
        int start = address;
        // Words that a label, a jump or a gap parts from the rest may be reached with anything in W.
        while (address - start < LongestRun && !walk.HasLabel(start) && walk.Has(start - 1) && !walk.EndsRun(start - 1))
            start--;
        (Content content, int value) = (Content.Index, 0xFF);
        int? latch = null;
        for (int at = start; at < address; at++)
        {
            DecodedStep step = walk.StepAt(at);
            bool isConditional = at > start && walk.StepAt(at - 1).MaySkip;
            if (step.First == DataSpace.Latch && step.WrittenBits != 0)
            {
                // An index that runs over the end of 256 words takes PCLATH with it.
                if (isConditional && step.Operation == Operation.Incf)
                    continue;
                latch = isConditional
                    ? null
                    : step.Operation switch
                    {
                        Operation.Movwf => content == Content.Number ? value : null,
                        Operation.Clrf => 0,
                        Operation.Bsf => latch | (1 << step.Second),
                        Operation.Bcf => latch & ~(1 << step.Second),
                        Operation.Incf => latch + 1,
                        Operation.Decf => latch - 1,
                        _ => null,
                    };
                continue;
            }

            if (step.Operation == Operation.Call)
                latch = null;
            if (!step.WritesW && step.Operation != Operation.Call)
                continue;
            (content, value) = isConditional ? (Content.Index, 0xFF) : After(step, content, value);
        }

        // Reached with a skip right in front, the jump may not happen at all; it goes to the same places when it does.
        return (content, value, latch);
    }

    private static (Content, int) After(in DecodedStep step, Content content, int value)
    {
        switch (step.Operation)
        {
            case Operation.Movlw:
                return (Content.Number, step.First);
            case Operation.Clrw:
                return (Content.Number, 0);
            case Operation.Addlw:
                return (
                    content == Content.Number ? content : Content.Added,
                    (content == Content.Index ? step.First : value + step.First) & 0xFF
                );
            case Operation.Andlw:
                return content == Content.Number ? (content, value & step.First) : (Content.Index, step.First);
            case Operation.Addwf when content == Content.Number:
                return (Content.Added, value);
            default:
                return (Content.Index, 0xFF);
        }
    }

    // Where PCLATH is set elsewhere: the one labelled table whose address ends alike.
    private static int? OnlyTable(FlowWalk walk, int low)
    {
        int? found = null;
        for (int at = low; at < walk.End; at += PageOfLatch)
        {
            if (
                !walk.HasLabel(at)
                || !walk.Has(at)
                || walk.StepAt(at).Operation is not (Operation.Goto or Operation.Retlw)
            )
                continue;
            if (found is not null)
                return null;
            found = at;
        }

        return found;
    }
}
