namespace AsmLsp.Core.Execution;

/// <summary>The results and flags of the arithmetic unit. C and DC are 1 after a subtraction that needed no borrow.</summary>
internal static class ArithmeticUnit
{
    public const int Carry = 1,
        DigitCarry = 2,
        Zero = 4;

    /// <summary>Adds; the flags C, DC and Z.</summary>
    public static int Add(int a, int b, out int flags)
    {
        int sum = a + b;
        int result = sum & 0xFF;
        flags = (sum >> 8) | (((a & 15) + (b & 15)) >> 4 << 1) | (result == 0 ? Zero : 0);
        return result;
    }

    /// <summary>Subtracts by adding the complement, as the chip does; the flags C, DC and Z.</summary>
    public static int Subtract(int from, int what, out int flags)
    {
        int sum = from + (what ^ 0xFF) + 1;
        int result = sum & 0xFF;
        flags = (sum >> 8) | (((from & 15) + ((what & 15) ^ 15) + 1) >> 4 << 1) | (result == 0 ? Zero : 0);
        return result;
    }
}
