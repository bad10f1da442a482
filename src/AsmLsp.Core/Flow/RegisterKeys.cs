using AsmLsp.Core.Devices;
using AsmLsp.Core.Execution;

namespace AsmLsp.Core.Flow;

/// <summary>How much is remembered of registers while a path is timed.</summary>
internal enum TimingDetail
{
    /// <summary>Every general-purpose register, and FSR.</summary>
    All,

    /// <summary>Not those that only sum up, of which a program may have more values than can be distinguished.</summary>
    Counters,

    /// <summary>W and the flags alone.</summary>
    None,
}

/// <summary>Names the register that the operand of an instruction reaches while a path is timed: its lowest data address.</summary>
internal sealed class RegisterKeys(FlowGraph graph, bool banksChange, TimingDetail detail = TimingDetail.All)
{
    private const int LowestGeneral = 0x0C;

    private readonly Device? device = graph.Walk.Device;
    private readonly HashSet<int> sums = detail == TimingDetail.Counters ? Sums(graph.Walk) : [];

    /// <summary>Whether an operand may mean general-purpose memory.</summary>
    public bool IsMemory(int low) => low >= (device?.DataMemory.FirstGeneralPurpose & 0x7F ?? LowestGeneral);

    /// <summary>The key of an operand, FSR and general-purpose registers only; -1 where it is another one, or not known which.</summary>
    public int Of(int low, int at, TimedState state)
    {
        if (detail == TimingDetail.None || sums.Contains(low))
            return -1;
        if (low == DataSpace.Pointer)
            return low;
        if (low == DataSpace.Indirect)
            return Indirect(at, state);
        // Where the bank stays the same for the whole path, the offset alone says the register.
        if (!banksChange)
            return IsMemory(low) ? low : -1;
        if (device is null)
            return -1;
        if (device.DataMemory.IsSameInEveryBank(low))
            return device.DataMemory.IsGeneralPurpose(low) ? low : -1;
        return graph.StateAt(at).Bank(device.DataMemory.BankCount) is { } bank ? General((bank << 7) | low) : -1;
    }

    // Registers that are counted up or added to, and that no loop counts down.
    private static HashSet<int> Sums(FlowWalk walk)
    {
        var found = new HashSet<int>();
        var counters = new HashSet<int>();
        for (int at = 0; at < walk.End; at++)
        {
            if (!walk.Has(at))
                continue;
            DecodedStep step = walk.StepAt(at);
            if (step.Operation is Operation.Decfsz or Operation.Incfsz)
                counters.Add(step.First);
            else if (
                step is
                {
                    Second: 1,
                    Operation: Operation.Incf or Operation.Addwf or Operation.Subwf or Operation.Rlf or Operation.Rrf
                }
            )
                found.Add(step.First);
        }

        found.ExceptWith(counters);
        return found;
    }

    private int Indirect(int at, TimedState state)
    {
        if (device is null || state.Value(DataSpace.Pointer) is not { } pointer)
            return -1;
        // The bank that direct operands mean is not known here, so the two could not be distinguished from each other.
        if (!banksChange && graph.StateAt(at).Bank(device.DataMemory.BankCount) is not 0)
            return -1;
        bool? upper = device.DataMemory.BankCount > 2 ? graph.StateAt(at).Irp : false;
        return upper is { } irp ? General(pointer | (irp ? 0x100 : 0)) : -1;
    }

    private int General(int full) => device!.DataMemory.IsGeneralPurpose(full) ? device.DataMemory.Canonical(full) : -1;
}
