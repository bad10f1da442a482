using AsmLsp.Core.Instructions;

namespace AsmLsp.Core.Tests.Instructions;

public class InstructionSetTests
{
    // Data sheet DS35007B (PIC16F84A), table 7-2, as printed; 'x' is don't care. TRIS and OPTION: DS30445D (PIC16C84).
    public static TheoryData<string, string, string, string> Table() =>
        new()
        {
            { "addwf", "00 0111 dfff ffff", "1", "C,DC,Z" },
            { "andwf", "00 0101 dfff ffff", "1", "Z" },
            { "clrf", "00 0001 lfff ffff", "1", "Z" },
            { "clrw", "00 0001 0xxx xxxx", "1", "Z" },
            { "comf", "00 1001 dfff ffff", "1", "Z" },
            { "decf", "00 0011 dfff ffff", "1", "Z" },
            { "decfsz", "00 1011 dfff ffff", "1(2)", "" },
            { "incf", "00 1010 dfff ffff", "1", "Z" },
            { "incfsz", "00 1111 dfff ffff", "1(2)", "" },
            { "iorwf", "00 0100 dfff ffff", "1", "Z" },
            { "movf", "00 1000 dfff ffff", "1", "Z" },
            { "movwf", "00 0000 lfff ffff", "1", "" },
            { "nop", "00 0000 0xx0 0000", "1", "" },
            { "rlf", "00 1101 dfff ffff", "1", "C" },
            { "rrf", "00 1100 dfff ffff", "1", "C" },
            { "subwf", "00 0010 dfff ffff", "1", "C,DC,Z" },
            { "swapf", "00 1110 dfff ffff", "1", "" },
            { "xorwf", "00 0110 dfff ffff", "1", "Z" },
            { "bcf", "01 00bb bfff ffff", "1", "" },
            { "bsf", "01 01bb bfff ffff", "1", "" },
            { "btfsc", "01 10bb bfff ffff", "1(2)", "" },
            { "btfss", "01 11bb bfff ffff", "1(2)", "" },
            { "addlw", "11 111x kkkk kkkk", "1", "C,DC,Z" },
            { "andlw", "11 1001 kkkk kkkk", "1", "Z" },
            { "call", "10 0kkk kkkk kkkk", "2", "" },
            { "clrwdt", "00 0000 0110 0100", "1", "TO,PD" },
            { "goto", "10 1kkk kkkk kkkk", "2", "" },
            { "iorlw", "11 1000 kkkk kkkk", "1", "Z" },
            { "movlw", "11 00xx kkkk kkkk", "1", "" },
            { "retfie", "00 0000 0000 1001", "2", "" },
            { "retlw", "11 01xx kkkk kkkk", "2", "" },
            { "return", "00 0000 0000 1000", "2", "" },
            { "sleep", "00 0000 0110 0011", "1", "TO,PD" },
            { "sublw", "11 110x kkkk kkkk", "1", "C,DC,Z" },
            { "xorlw", "11 1010 kkkk kkkk", "1", "Z" },
            { "option", "00 0000 0110 0010", "1", "" },
            { "tris", "00 0000 0110 0fff", "1", "" },
        };

    [Theory]
    [MemberData(nameof(Table))]
    public void An_instruction_is_as_the_data_sheet_prints_it(string name, string pattern, string cycles, string flags)
    {
        Instruction instruction = InstructionSet.Find(name.ToUpperInvariant())!;
        string bits = pattern.Replace(" ", "", StringComparison.Ordinal).Replace('l', '1');
        for (int i = 0; i < 14; i++)
        {
            int bit = 1 << (13 - i);
            switch (bits[i])
            {
                case '0' or '1':
                    Assert.NotEqual(0, instruction.FixedMask & bit);
                    Assert.Equal(bits[i] == '1', (instruction.Pattern & bit) != 0);
                    break;
                case 'x':
                    Assert.NotEqual(0, instruction.DontCareMask & bit);
                    break;
                default:
                    Assert.NotEqual(0, instruction.OperandMask & bit);
                    break;
            }
        }

        Assert.Equal(
            cycles,
            instruction.MaySkip
                ? "1(2)"
                : instruction.Cycles.ToString(System.Globalization.CultureInfo.InvariantCulture)
        );
        Assert.Equal(flags, Flags(instruction.Affects));
    }

    [Fact]
    public void The_table_holds_all_instructions_and_no_other() =>
        Assert.Equal(Table().Select(row => (string)row[0]).Order(), InstructionSet.All.Select(i => i.Name).Order());

    [Fact]
    public void Every_word_decodes_to_what_encodes_to_it_again()
    {
        int known = 0;
        for (int word = 0; word <= 0x3FFF; word++)
        {
            if (InstructionSet.Decode(word) is not { } decoded)
                continue;
            known++;
            int again = decoded.Instruction.Encode(decoded.First, decoded.Second);
            Assert.Equal(decoded.IsCanonical, again == word);
            Assert.Equal(word & ~decoded.Instruction.DontCareMask, again & ~decoded.Instruction.DontCareMask);
        }

        Assert.True(known > 15_000, $"{known} words are instructions");
    }

    [Fact]
    public void Every_instruction_with_every_operand_comes_back_from_its_word()
    {
        foreach (Instruction instruction in InstructionSet.All)
        {
            (int firsts, int seconds) = instruction.Operands switch
            {
                OperandKind.Register => (0x80, 1),
                OperandKind.RegisterDestination => (0x80, 2),
                OperandKind.RegisterBit => (0x80, 8),
                OperandKind.Literal8 => (0x100, 1),
                OperandKind.Address11 => (0x800, 1),
                OperandKind.TrisPort => (8, 1),
                _ => (1, 1),
            };
            for (int first = instruction.Operands == OperandKind.TrisPort ? 5 : 0; first < firsts; first++)
            {
                for (int second = 0; second < seconds; second++)
                    Assert.Equal(
                        new DecodedInstruction(instruction, first, second, true),
                        InstructionSet.Decode(instruction.Encode(first, second))
                    );
            }
        }
    }

    // Published programs hold CLRW as 0x0103 and 0 in all other don't-care bits (counted in 400 published HEX files).
    [Theory]
    [InlineData("clrw", 0x0103)]
    [InlineData("nop", 0x0000)]
    [InlineData("movlw", 0x3000)]
    [InlineData("retlw", 0x3400)]
    [InlineData("addlw", 0x3E00)]
    [InlineData("sublw", 0x3C00)]
    public void Dont_care_bits_are_as_published_programs_have_them(string name, int word) =>
        Assert.Equal(word, InstructionSet.Find(name)!.Encode(0));

    [Fact]
    public void Operands_with_too_many_bits_are_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => InstructionSet.Find("movwf")!.Encode(0x80));
        Assert.Throws<ArgumentOutOfRangeException>(() => InstructionSet.Find("bsf")!.Encode(0, 8));
        Assert.Throws<ArgumentOutOfRangeException>(() => InstructionSet.Find("movlw")!.Encode(-1));
        Assert.Throws<ArgumentOutOfRangeException>(() => InstructionSet.Find("tris")!.Encode(4));
        Assert.Throws<ArgumentOutOfRangeException>(() => InstructionSet.Find("nop")!.Encode(1));
    }

    // Family shorthand: a public tutorial page; BNZ, BNDC, SUBCF from memory. Register 3 is STATUS: bit 0 C, 1 DC, 2 Z.
    [Theory]
    [InlineData("addcf", "btfsc 3,0; incf f,d")]
    [InlineData("adddcf", "btfsc 3,1; incf f,d")]
    [InlineData("b", "goto k")]
    [InlineData("bc", "btfsc 3,0; goto k")]
    [InlineData("bdc", "btfsc 3,1; goto k")]
    [InlineData("bnc", "btfss 3,0; goto k")]
    [InlineData("bndc", "btfss 3,1; goto k")]
    [InlineData("bnz", "btfss 3,2; goto k")]
    [InlineData("bz", "btfsc 3,2; goto k")]
    [InlineData("clrc", "bcf 3,0")]
    [InlineData("clrdc", "bcf 3,1")]
    [InlineData("clrz", "bcf 3,2")]
    [InlineData("lcall", "call k")]
    [InlineData("lgoto", "goto k")]
    [InlineData("movfw", "movf f,0")]
    [InlineData("negf", "comf f,1; incf f,d")]
    [InlineData("setc", "bsf 3,0")]
    [InlineData("setdc", "bsf 3,1")]
    [InlineData("setz", "bsf 3,2")]
    [InlineData("skpc", "btfss 3,0")]
    [InlineData("skpdc", "btfss 3,1")]
    [InlineData("skpnc", "btfsc 3,0")]
    [InlineData("skpndc", "btfsc 3,1")]
    [InlineData("skpnz", "btfsc 3,2")]
    [InlineData("skpz", "btfss 3,2")]
    [InlineData("subcf", "btfsc 3,0; decf f,d")]
    [InlineData("subdcf", "btfsc 3,1; decf f,d")]
    [InlineData("tstf", "movf f,1")]
    public void Shorthand_stands_for_its_instructions(string name, string expansion)
    {
        Shorthand shorthand = Shorthand.Find(name)!;
        int first = shorthand.Operands == OperandKind.None ? 0 : 0x25;
        int second = 0;
        int[] expected = [.. expansion.Split("; ").Select(Word)];
        Assert.Equal(expected, shorthand.Expand(first, second));
        Assert.Contains(shorthand, Shorthand.All);

        int Word(string text)
        {
            string[] parts = text.Split(' ', ',');
            int[] values =
            [
                .. parts[1..]
                    .Select(p =>
                        p is "f" or "k" ? first
                        : p == "d" ? second
                        : int.Parse(p, System.Globalization.CultureInfo.InvariantCulture)
                    ),
            ];
            return InstructionSet.Find(parts[0])!.Encode(values[0], values.Length > 1 ? values[1] : 0);
        }
    }

    [Fact]
    public void All_shorthand_is_tested() => Assert.Equal(28, Shorthand.All.Length);

    private static string Flags(StatusFlags flags)
    {
        var names = new List<string>();
        if (flags.HasFlag(StatusFlags.Carry))
            names.Add("C");
        if (flags.HasFlag(StatusFlags.DigitCarry))
            names.Add("DC");
        if (flags.HasFlag(StatusFlags.Zero))
            names.Add("Z");
        if (flags.HasFlag(StatusFlags.TimeOut))
            names.Add("TO");
        if (flags.HasFlag(StatusFlags.PowerDown))
            names.Add("PD");
        return string.Join(",", names);
    }
}
