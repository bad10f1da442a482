using AsmLsp.Core.Execution;
using AsmLsp.Core.Instructions;

namespace AsmLsp.Core.Tests.Execution;

/// <summary>
/// Every instruction with every pair of operands, compared with another formulation: an adder that works bit by bit, the comparisons
/// by which the manual defines carry and borrow, and strings of bits. Definitions: reference manual DS33023, "Instruction Set"
/// (operation and flags of each instruction) and "STATUS register" (C, DC, Z; for borrow the polarity is reversed).
/// </summary>
public class InstructionTruthTests
{
    private const int C = 1,
        DC = 2,
        Z = 4,
        Register = 0x20;

    [Theory]
    [InlineData("addwf"), InlineData("subwf"), InlineData("andwf"), InlineData("iorwf"), InlineData("xorwf")]
    [InlineData("movf"), InlineData("comf"), InlineData("incf"), InlineData("decf"), InlineData("incfsz")]
    [InlineData("decfsz"), InlineData("rlf"), InlineData("rrf"), InlineData("swapf"), InlineData("clrf")]
    [InlineData("movwf")]
    public void A_register_instruction_gives_result_and_flags_of_the_manual(string name)
    {
        Instruction instruction = InstructionSet.Find(name)!;
        bool hasDestination = instruction.Operands == OperandKind.RegisterDestination;
        for (int d = hasDestination ? 0 : 1; d < 2; d++)
        {
            Processor chip = Chips.One(name, Register, hasDestination ? d : 0);
            for (int pair = 0; pair < 0x10000; pair++)
            {
                (int f, int w) = (pair >> 8, pair & 0xFF);
                // Flags as they may be before: each of the eight combinations comes with each kind of result.
                int before = (f + w + (f >> 3)) & 7;
                Set(chip, f, w, before);
                chip.Run(1);
                (int result, int flags, bool skips) = Expected(name, f, w, before);
                int register = d == 1 ? result : f,
                    working = d == 1 ? w : result;
                string what = $"{name} f={f:X2} W={w:X2} d={d} flags={before}";
                Assert.True(register == chip.Peek(Register), what);
                Assert.True(working == chip.W, what);
                Assert.True(flags == (chip.Status & 7), $"{what}: flags {chip.Status & 7}, not {flags}");
                Assert.True((skips ? 2 : 1) == chip.ProgramCounter, what);
            }
        }
    }

    [Theory]
    [InlineData("addlw", "addwf"), InlineData("sublw", "subwf"), InlineData("andlw", "andwf")]
    [InlineData("iorlw", "iorwf"), InlineData("xorlw", "xorwf")]
    public void A_constant_takes_the_place_of_the_register(string name, string like)
    {
        for (int k = 0; k < 256; k++)
        {
            Processor chip = Chips.One(name, k);
            for (int w = 0; w < 256; w++)
            {
                int before = (k + w) & 7;
                Set(chip, 0, w, before);
                chip.Run(1);
                (int result, int flags, _) = Expected(like, k, w, before);
                Assert.True(
                    (result, flags) == (chip.W, chip.Status & 7),
                    $"{name} {k:X2}, W={w:X2}: {chip.W:X2}, flags {chip.Status & 7}"
                );
            }
        }
    }

    [Fact]
    public void Constants_and_CLRW_load_W()
    {
        for (int k = 0; k < 256; k++)
        {
            Processor chip = Chips.One("movlw", k);
            Set(chip, 0, 255 - k, k & 7);
            Assert.Equal((k, k & 7), (chip.Run(1).W, chip.Status & 7));
            chip = Chips.One("clrw", 0);
            Set(chip, 0, k, k & 7);
            Assert.Equal((0, (k & 7) | Z), (chip.Run(1).W, chip.Status & 7));
        }
    }

    [Fact]
    public void A_bit_instruction_touches_its_bit_and_no_flag()
    {
        for (int f = 0; f < 256; f++)
        {
            for (int bit = 0; bit < 8; bit++)
            {
                char[] bits = Bits(f);
                foreach (string name in (string[])["bsf", "bcf", "btfss", "btfsc"])
                {
                    Processor chip = Chips.One(name, Register, bit);
                    Set(chip, f, 0x5A, bit);
                    chip.Run(1);
                    char[] expected = [.. bits];
                    if (name is "bsf" or "bcf")
                        expected[7 - bit] = name == "bsf" ? '1' : '0';
                    bool skips = name == "btfss" && bits[7 - bit] == '1' || name == "btfsc" && bits[7 - bit] == '0';
                    Assert.Equal(Number(expected), chip.Peek(Register));
                    Assert.Equal((0x5A, bit, skips ? 2 : 1), (chip.W, chip.Status & 7, chip.ProgramCounter));
                }
            }
        }
    }

    [Fact]
    public void Don_t_care_bits_change_nothing()
    {
        int compared = 0;
        for (int word = 0; word < 0x4000; word++)
        {
            if (InstructionSet.Decode(word) is not { IsCanonical: false } decoded)
                continue;
            int plain = decoded.Instruction.Encode(decoded.First, decoded.Second);
            Processor a = Chips.With($" dw 0x{word:X4}"),
                b = Chips.With($" dw 0x{plain:X4}");
            (a.W, b.W) = (0x35, 0x35);
            Assert.Equal(a.Step(), b.Step());
            Assert.Equal((a.W, a.Status, a.ProgramCounter, a.Cycles), (b.W, b.Status, b.ProgramCounter, b.Cycles));
            if (++compared > 400)
                word += 16;
        }

        Assert.True(compared > 400, $"{compared}");
    }

    private static void Set(Processor chip, int f, int w, int flags)
    {
        chip.ProgramCounter = 0;
        chip.Poke(Register, f);
        chip.W = w;
        chip.Status = 0x18 | flags;
    }

    private static (int Result, int Flags, bool Skips) Expected(string name, int f, int w, int before)
    {
        bool carry = (before & C) != 0;
        switch (name)
        {
            case "addwf":
            {
                int sum = Ripple(f, w, false, out bool c, out bool dc);
                // DS33023: C is the carry-out of the most significant bit, DC the carry-out of the fourth low order bit.
                Assert.Equal((f > 255 - w, f % 16 > 15 - w % 16), (c, dc));
                return (sum, (c ? C : 0) | (dc ? DC : 0) | (sum == 0 ? Z : 0), false);
            }

            case "subwf":
            {
                int difference = Ripple(f, 255 - w, true, out bool c, out bool dc);
                // A result that is zero or positive leaves C at 1 (DS33023, SUBWF); the same for the low halves and DC.
                Assert.Equal((f >= w, f % 16 >= w % 16), (c, dc));
                return (difference, (c ? C : 0) | (dc ? DC : 0) | (f == w ? Z : 0), false);
            }

            case "andwf":
                return WithZero(Each(f, w, static (a, b) => a == '1' && b == '1'), before);
            case "iorwf":
                return WithZero(Each(f, w, static (a, b) => a == '1' || b == '1'), before);
            case "xorwf":
                return WithZero(Each(f, w, static (a, b) => a != b), before);
            case "comf":
                return WithZero(255 - f, before);
            case "movf":
                return WithZero(f, before);
            case "incf":
                return WithZero(f == 255 ? 0 : f + 1, before);
            case "decf":
                return WithZero(f == 0 ? 255 : f - 1, before);
            case "incfsz":
                return (f == 255 ? 0 : f + 1, before, f == 255);
            case "decfsz":
                return (f == 0 ? 255 : f - 1, before, f == 1);
            case "clrf":
                return (0, before | Z, false);
            case "movwf":
                return (w, before, false);
            case "swapf":
                return (f % 16 * 16 + f / 16, before, false);
            case "rlf":
            {
                char[] ring = [.. Bits(f), carry ? '1' : '0'];
                return (Number([.. ring[1..9]]), before & ~C | (ring[0] == '1' ? C : 0), false);
            }

            default:
            {
                Assert.Equal("rrf", name);
                char[] ring = [carry ? '1' : '0', .. Bits(f)];
                return (Number([.. ring[..8]]), before & ~C | (ring[8] == '1' ? C : 0), false);
            }
        }
    }

    private static (int, int, bool) WithZero(int result, int before) =>
        (result, before & ~Z | (result == 0 ? Z : 0), false);

    // A chain of full adders: each bit's sum is the parity of its three inputs, its carry their majority.
    private static int Ripple(int a, int b, bool carryIn, out bool carry, out bool digitCarry)
    {
        (carry, digitCarry) = (carryIn, false);
        int sum = 0;
        for (int bit = 0; bit < 8; bit++)
        {
            int ones = (a >> bit & 1) + (b >> bit & 1) + (carry ? 1 : 0);
            sum |= ones % 2 << bit;
            carry = ones >= 2;
            if (bit == 3)
                digitCarry = carry;
        }

        return sum;
    }

    private static char[] Bits(int value) => Convert.ToString(value, 2).PadLeft(8, '0').ToCharArray();

    private static int Number(char[] bits) => Convert.ToInt32(new string(bits), 2);

    private static int Each(int a, int b, Func<char, char, bool> rule) =>
        Number([.. Bits(a).Zip(Bits(b), (x, y) => rule(x, y) ? '1' : '0')]);
}
