using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Assembly;

/// <summary>What operators make of 32-bit signed numbers; the result may need more bits, which is the caller's to see.</summary>
internal static class Arithmetic
{
    /// <summary>The result of an operator before its operand.</summary>
    public static int Apply(Operator op, int n) =>
        op switch
        {
            Operator.Minus => unchecked(-n),
            Operator.Not => n == 0 ? 1 : 0,
            Operator.Complement => ~n,
            Operator.High => (n >> 8) & 0xFF,
            Operator.Low => n & 0xFF,
            Operator.Upper => (n >> 16) & 0x3F,
            _ => n,
        };

    /// <summary>The result of an operator between its operands; the caller keeps a divisor of 0 away.</summary>
    public static long Apply(Operator op, long a, long b) =>
        op switch
        {
            Operator.Multiply => a * b,
            Operator.Divide => a / b,
            Operator.Remainder => a % b,
            Operator.Add => a + b,
            Operator.Subtract => a - b,
            Operator.ShiftLeft => b is < 0 or > 31 ? 0 : a << (int)b,
            Operator.ShiftRight => b is < 0 or > 31 ? (a < 0 ? -1 : 0) : a >> (int)b,
            Operator.Less => a < b ? 1 : 0,
            Operator.LessOrEqual => a <= b ? 1 : 0,
            Operator.Greater => a > b ? 1 : 0,
            Operator.GreaterOrEqual => a >= b ? 1 : 0,
            Operator.Equal => a == b ? 1 : 0,
            Operator.NotEqual => a != b ? 1 : 0,
            Operator.And => a & b,
            Operator.ExclusiveOr => a ^ b,
            Operator.Or => a | b,
            Operator.LogicalAnd => a != 0 && b != 0 ? 1 : 0,
            _ => a != 0 || b != 0 ? 1 : 0,
        };
}
