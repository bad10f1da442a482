namespace AsmLsp.Core.Execution;

/// <summary>
/// The return addresses of the chip: a ring without a sign of overflow, so that one call too many overwrites the oldest address
/// (reference manual DS33023, "Stack").
/// </summary>
public sealed class CallStack
{
    private readonly int[] ring;
    private int top;

    internal CallStack(int size) => ring = new int[size];

    /// <summary>Addresses that it can hold.</summary>
    public int Size => ring.Length;

    /// <summary>Calls and interrupts without their return so far; below 0 after a return too many.</summary>
    public int Depth { get; private set; }

    /// <summary>The greatest depth since the reset.</summary>
    public int Deepest { get; private set; }

    /// <summary>Whether a return address was overwritten since the reset.</summary>
    public bool HasOverflowed => Deepest > ring.Length;

    /// <summary>Whether there was a return without a call since the reset.</summary>
    public bool HasUnderflowed { get; private set; }

    internal void Push(int address)
    {
        ring[top] = address;
        top = (top + 1) % ring.Length;
        Deepest = Math.Max(Deepest, ++Depth);
    }

    internal int Pop()
    {
        top = (top + ring.Length - 1) % ring.Length;
        HasUnderflowed |= --Depth < 0;
        return ring[top];
    }

    internal void Reset() => (top, Depth, Deepest, HasUnderflowed) = (0, 0, 0, false);
}
