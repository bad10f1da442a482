using AsmLsp.Core.Execution;

namespace AsmLsp.Core.Flow;

/// <summary>A byte of which only some bits are known: for each bit whether it may be 0 and whether it may be 1.</summary>
/// <param name="Zero">Bits that may be 0.</param>
/// <param name="One">Bits that may be 1.</param>
internal readonly record struct KnownBits(byte Zero, byte One)
{
    private const int Byte = 0xFF;

    /// <summary>Nothing known.</summary>
    public static KnownBits Unknown { get; } = new(Byte, Byte);

    /// <summary>The value, or null where a bit is not known.</summary>
    public int? Value => (Zero & One) == 0 && (Zero | One) == Byte ? One : null;

    /// <summary>Bits that are both possible.</summary>
    public int Open => Zero & One;

    /// <summary>A known byte.</summary>
    public static KnownBits Of(int value) => new((byte)~value, (byte)value);

    /// <summary>From masks, of which the low eight bits count.</summary>
    public static KnownBits From(int zero, int one) => new((byte)zero, (byte)one);

    /// <summary>What either of two may be.</summary>
    public KnownBits Join(KnownBits other) => From(Zero | other.Zero, One | other.One);

    /// <summary>The bits of a mask from another, the rest from this.</summary>
    public KnownBits Take(KnownBits other, int mask) =>
        From((Zero & ~mask) | (other.Zero & mask), (One & ~mask) | (other.One & mask));

    /// <summary>One bit set to a value.</summary>
    public KnownBits With(int bit, bool isOne) => Take(isOne ? new(0, Byte) : new(Byte, 0), 1 << bit);

    /// <summary>The result of an operation on a register and W, or on a constant and W.</summary>
    public static KnownBits Combine(Operation operation, KnownBits value, KnownBits w)
    {
        switch (operation)
        {
            case Operation.Andlw or Operation.Andwf:
                return From(w.Zero | value.Zero, w.One & value.One);
            case Operation.Iorlw or Operation.Iorwf:
                return From(w.Zero & value.Zero, w.One | value.One);
            case Operation.Xorlw or Operation.Xorwf:
                return From((w.Zero & value.Zero) | (w.One & value.One), (w.Zero & value.One) | (w.One & value.Zero));
            case Operation.Movf or Operation.Movlw or Operation.Retlw:
                return value;
            case Operation.Comf:
                return new(value.One, value.Zero);
            case Operation.Swapf:
                return From(Swapped(value.Zero), Swapped(value.One));
            case Operation.Rlf:
                return From(value.Zero << 1 | 1, value.One << 1 | 1);
            case Operation.Rrf:
                return From(value.Zero >> 1 | 0x80, value.One >> 1 | 0x80);
        }

        int? result = operation switch
        {
            Operation.Addlw or Operation.Addwf => value.Value + w.Value,
            Operation.Sublw or Operation.Subwf => value.Value - w.Value,
            Operation.Incf or Operation.Incfsz => value.Value + 1,
            Operation.Decf or Operation.Decfsz => value.Value - 1,
            _ => null,
        };
        return result is { } known ? Of(known) : Unknown;
    }

    private static int Swapped(int mask) => mask << 4 | mask >> 4;
}
