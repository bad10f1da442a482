using System.Runtime.InteropServices;
using AsmLsp.Core.Execution;

namespace AsmLsp.Core.Flow;

/// <summary>W, the flags, FSR and the general-purpose registers as far as they are known while a path is timed.</summary>
internal sealed class TimedState : IEquatable<TimedState>
{
    private const short Unknown = -1;
    private const int Registers = 0x200,
        CarryBit = ArithmeticUnit.Carry,
        DigitCarryBit = ArithmeticUnit.DigitCarry,
        ZeroBit = ArithmeticUnit.Zero,
        FlagBits = 7;

    private readonly RegisterKeys keys;
    private readonly short[] values;

    // Counts accesses, so that a loop knows that nothing but its own step touches its counter.
    private readonly int[] touches;
    private int flags;
    private int knownFlags;

    public TimedState(RegisterKeys keys)
    {
        this.keys = keys;
        values = new short[Registers];
        touches = new int[Registers];
        Array.Fill(values, Unknown);
    }

    private TimedState(TimedState other)
    {
        keys = other.keys;
        values = [.. other.values];
        touches = [.. other.touches];
        (flags, knownFlags, W) = (other.flags, other.knownFlags, other.W);
    }

    /// <summary>The value of W, or null.</summary>
    public int? W { get; set; }

    public TimedState Copy() => new(this);

    public int? Value(int key) => key >= 0 && values[key] >= 0 ? values[key] : null;

    public int Touches(int key) => touches[key];

    public void Set(int key, int value) => values[key] = (short)value;

    /// <summary>Whether everything that is known is the same.</summary>
    public bool Equals(TimedState? other) => other is not null && SameBut(other, -1);

    public override bool Equals(object? obj) => Equals(obj as TimedState);

    public override int GetHashCode()
    {
        var hash = new HashCode();
        hash.AddBytes(MemoryMarshal.AsBytes(values.AsSpan()));
        hash.Add(W);
        hash.Add(knownFlags << 3 | (flags & knownFlags));
        return hash.ToHashCode();
    }

    /// <summary>Whether everything that is known is the same, one register aside.</summary>
    public bool SameBut(TimedState other, int key)
    {
        if (W != other.W || knownFlags != other.knownFlags || ((flags ^ other.flags) & knownFlags) != 0)
            return false;
        ReadOnlySpan<short> here = values,
            there = other.values;
        return key < 0
            ? here.SequenceEqual(there)
            : here[..key].SequenceEqual(there[..key]) && here[(key + 1)..].SequenceEqual(there[(key + 1)..]);
    }

    /// <summary>Whether an instruction that may skip will do so, or null where that is not known; nothing is changed.</summary>
    public bool? WouldSkip(in DecodedStep step, int at)
    {
        if (step.Operation is Operation.Btfsc or Operation.Btfss)
        {
            bool onOne = step.Operation == Operation.Btfss;
            int bit = 1 << step.Second;
            if (step.First == DataSpace.Status)
                return (knownFlags & bit & FlagBits) != 0 ? (flags & bit) != 0 == onOne : null;
            return Value(keys.Of(step.First, at, this)) is { } bits ? (bits & bit) != 0 == onOne : null;
        }

        return Value(keys.Of(step.First, at, this)) is { } value
            ? value == (step.Operation == Operation.Decfsz ? 1 : 0xFF)
            : null;
    }

    /// <summary>Takes over what is known once an instruction has skipped, or has not.</summary>
    public void Skipped(in DecodedStep step, int at, bool skips)
    {
        if (step.Operation is Operation.Decfsz or Operation.Incfsz)
        {
            if (!skips)
                return;
            if (step.Second == 0)
                W = 0;
            else if (keys.Of(step.First, at, this) is >= 0 and int key)
                values[key] = 0;
        }
        else if (step.First == DataSpace.Status && step.Second < 3)
        {
            SetFlags(1 << step.Second, skips == (step.Operation == Operation.Btfss) ? 1 << step.Second : 0);
        }
    }

    /// <summary>Executes an instruction that neither jumps nor calls.</summary>
    public void Step(in DecodedStep step, int at)
    {
        int? before = W;
        switch (step.Operation)
        {
            case Operation.Nop:
            case Operation.Clrwdt:
            case Operation.Option:
            case Operation.Tris:
                return;
            case Operation.Clrw:
                W = 0;
                SetFlags(ZeroBit, ZeroBit);
                return;
            case Operation.Movlw:
                W = step.First;
                return;
            case Operation.Addlw:
            case Operation.Sublw:
            case Operation.Andlw:
            case Operation.Iorlw:
            case Operation.Xorlw:
                W = Combine(step.Operation, step.First, before);
                return;
            case Operation.Movwf:
                Store(step.First, at, before);
                return;
            case Operation.Clrf:
                Store(step.First, at, 0);
                SetFlags(ZeroBit, ZeroBit);
                return;
            case Operation.Bcf:
            case Operation.Bsf:
            {
                int bit = 1 << step.Second;
                if (step.First == DataSpace.Status)
                    SetFlags(bit & FlagBits, step.Operation == Operation.Bsf ? bit : 0);
                else if (Load(step.First, at) is { } value)
                    Store(step.First, at, step.Operation == Operation.Bsf ? value | bit : value & ~bit);
                else
                    Store(step.First, at, null);
                return;
            }

            case Operation.Btfsc:
            case Operation.Btfss:
                Load(step.First, at);
                return;
        }

        int? result = Combine(step.Operation, Load(step.First, at), before);
        if (step.Second == 1)
            Store(step.First, at, result);
        else
            W = result;
    }

    // The result of an operation, and its flags as far as they are known.
    private int? Combine(Operation operation, int? value, int? w)
    {
        int? result;
        switch (operation)
        {
            case Operation.Addlw or Operation.Addwf:
            case Operation.Sublw or Operation.Subwf:
                if (value is not { } operand || w is not { } working)
                {
                    knownFlags = 0;
                    return null;
                }

                result = operation is Operation.Addlw or Operation.Addwf
                    ? ArithmeticUnit.Add(operand, working, out int arithmetic)
                    : ArithmeticUnit.Subtract(operand, working, out arithmetic);
                SetFlags(FlagBits, arithmetic);
                return result;
            case Operation.Rlf:
            case Operation.Rrf:
            {
                bool isLeft = operation == Operation.Rlf;
                int? carry = (knownFlags & CarryBit) != 0 ? flags & CarryBit : null;
                result = isLeft ? (value << 1 | carry) & 0xFF : value >> 1 | carry << 7;
                if (value is { } bits)
                    SetFlags(CarryBit, isLeft ? bits >> 7 : bits & 1);
                else
                    knownFlags &= ~CarryBit;
                return result;
            }

            case Operation.Swapf:
                return (value << 4 | value >> 4) & 0xFF;
            case Operation.Decfsz:
                return (value - 1) & 0xFF;
            case Operation.Incfsz:
                return (value + 1) & 0xFF;
            case Operation.Andlw or Operation.Andwf:
                result = value == 0 || w == 0 ? 0 : value & w;
                break;
            case Operation.Iorlw or Operation.Iorwf:
                result = value == 0xFF || w == 0xFF ? 0xFF : value | w;
                break;
            case Operation.Xorlw or Operation.Xorwf:
                result = value ^ w;
                break;
            case Operation.Comf:
                result = value ^ 0xFF;
                break;
            case Operation.Decf:
                result = (value - 1) & 0xFF;
                break;
            case Operation.Incf:
                result = (value + 1) & 0xFF;
                break;
            default:
                result = value;
                break;
        }

        if (result is { } known)
            SetFlags(ZeroBit, known == 0 ? ZeroBit : 0);
        else
            knownFlags &= ~ZeroBit;
        return result;
    }

    private void SetFlags(int affected, int set) =>
        (flags, knownFlags) = ((flags & ~affected) | (set & affected), knownFlags | affected);

    private int? Load(int low, int at)
    {
        int key = keys.Of(low, at, this);
        if (key < 0)
            return null;
        touches[key]++;
        return Value(key);
    }

    private void Store(int low, int at, int? value)
    {
        if (low == DataSpace.Status)
        {
            knownFlags = 0;
            return;
        }

        int key = keys.Of(low, at, this);
        if (key >= 0)
        {
            touches[key]++;
            values[key] = (short)(value ?? Unknown);
        }
        else if (low == DataSpace.Indirect)
        {
            // Any register may have been written, but not FSR itself.
            for (int i = 0; i < Registers; i++)
            {
                touches[i]++;
                if (i != DataSpace.Pointer)
                    values[i] = Unknown;
            }
        }
        else if (keys.IsMemory(low))
        {
            // Not known which register of that offset it is: none of them is known any more.
            for (int bank = low; bank < Registers; bank += 0x80)
            {
                touches[bank]++;
                values[bank] = Unknown;
            }
        }
    }
}
