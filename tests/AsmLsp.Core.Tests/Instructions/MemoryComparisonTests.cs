using AsmLsp.Core.Devices;
using AsmLsp.Core.Hex;
using AsmLsp.Core.Instructions;

namespace AsmLsp.Core.Tests.Instructions;

/// <summary>What a difference between two words means; the words are worked out from data sheet DS35007B, table 7-2.</summary>
public class MemoryComparisonTests
{
    [Theory]
    [InlineData(0, 0x3005, 0x3006, DifferenceKind.Operand, false)] // movlw 5, movlw 6
    [InlineData(0, 0x0820, 0x08A0, DifferenceKind.Operand, false)] // movf 0x20,w and movf 0x20,f
    [InlineData(0, 0x1683, 0x1283, DifferenceKind.Instruction, false)] // bsf, bcf
    [InlineData(0, 0x3005, 0x3305, DifferenceKind.DontCareBits, true)] // movlw 5 in two forms
    [InlineData(0, 0x0103, 0x0100, DifferenceKind.DontCareBits, true)] // clrw in two forms
    [InlineData(0, 0x0001, 0x0002, DifferenceKind.Instruction, false)] // two words that are no instruction
    [InlineData(0, 0x3005, 0xF005, DifferenceKind.Instruction, false)] // bits above the 14 of a word
    [InlineData(0x2000, 1, 2, DifferenceKind.Identification, true)]
    [InlineData(0x2003, 1, 2, DifferenceKind.Identification, true)]
    [InlineData(0x2006, 1, 2, DifferenceKind.Other, false)]
    [InlineData(0x2007, 0x3FF1, 0x3FF5, DifferenceKind.Configuration, false)]
    [InlineData(0x2100, 1, 2, DifferenceKind.Eeprom, false)]
    [InlineData(0x21FF, 1, 2, DifferenceKind.Eeprom, false)]
    public void A_difference_is_reported_by_its_meaning(
        int address,
        int first,
        int second,
        DifferenceKind kind,
        bool harmless
    )
    {
        Difference difference = Assert.Single(
            MemoryComparison.Compare(Memory((address, first)), Memory((address, second)))
        );
        Assert.Equal(new Difference(address, (ushort)first, (ushort)second, kind), difference);
        Assert.Equal(harmless, difference.IsHarmless);
    }

    [Theory]
    [InlineData(0, 0x3005)]
    [InlineData(0x2007, 0x3FF1)]
    [InlineData(0x2100, 0x0041)]
    public void A_word_on_one_side_only_differs(int address, int word)
    {
        Difference first = Assert.Single(MemoryComparison.Compare(Memory((address, word)), WordMemory.Empty));
        Difference second = Assert.Single(MemoryComparison.Compare(WordMemory.Empty, Memory((address, word))));
        Assert.Equal((DifferenceKind.OnlyInFirst, false), (first.Kind, first.IsHarmless));
        Assert.Equal((DifferenceKind.OnlyInSecond, false), (second.Kind, second.IsHarmless));
    }

    // Erased cells of the chip hold ones: 14 bits of a word, 8 of an EEPROM byte (data sheet DS35007B).
    [Theory]
    [InlineData(0, 0x3FFF)]
    [InlineData(0, 0xFFFF)] // a file that fills all 16 bits
    [InlineData(0x2000, 0x3FFF)]
    [InlineData(0x2007, 0x3FFF)]
    [InlineData(0x2100, 0x00FF)]
    [InlineData(0x2100, 0x3FFF)]
    public void A_word_that_is_erased_on_one_side_and_absent_on_the_other_is_no_difference(int address, int word)
    {
        Assert.Empty(MemoryComparison.Compare(Memory((address, word)), WordMemory.Empty));
        Assert.Empty(MemoryComparison.Compare(WordMemory.Empty, Memory((address, word))));
    }

    // PIC12F629: the calibration word is RETLW k at 0x3FF, the band gap has bits 13 and 12 of the configuration word (data sheet DS41190G).
    [Theory]
    [InlineData(0x3FF, 0x3480, 0x3444, DifferenceKind.Calibration)]
    [InlineData(0x3FF, null, 0x3444, DifferenceKind.Calibration)]
    [InlineData(0x3FF, 0x3480, 0x2805, DifferenceKind.Instruction)]
    [InlineData(0x2007, 0x31CC, 0x01CC, DifferenceKind.FactoryBits)]
    [InlineData(0x2007, 0x31CC, 0x01C4, DifferenceKind.Configuration)]
    [InlineData(0x2006, null, 0x0F84, DifferenceKind.DeviceIdentity)]
    public void What_the_factory_sets_is_distinguished(int address, int? first, int second, DifferenceKind kind)
    {
        WordMemory a = first is { } word ? Memory((address, word)) : WordMemory.Empty;
        Difference difference = Assert.Single(
            MemoryComparison.Compare(a, Memory((address, second)), DeviceCatalog.Find("12F629"))
        );
        Assert.Equal(kind, difference.Kind);
        Assert.Equal(kind is not (DifferenceKind.Instruction or DifferenceKind.Configuration), difference.IsHarmless);
    }

    // PIC16F628A has no bits 12 to 9 in its configuration word (from memory).
    [Fact]
    public void Configuration_bits_that_the_chip_lacks_are_distinguished()
    {
        Device chip = DeviceCatalog.Find("16F628A")!;
        Assert.Equal(DifferenceKind.UnusedConfigurationBits, Kind(0x3F10, 0x2110, chip));
        Assert.Equal(DifferenceKind.Configuration, Kind(0x3F10, 0x3F11, chip));
        Assert.Equal(DifferenceKind.Configuration, Kind(0x3F10, 0x2110, null));

        static DifferenceKind Kind(int a, int b, Device? chip) =>
            Assert.Single(MemoryComparison.Compare(Memory((0x2007, a)), Memory((0x2007, b)), chip)).Kind;
    }

    [Fact]
    public void Differences_come_in_order_of_their_addresses() =>
        Assert.Equal(
            [1, 2, 0x2007],
            MemoryComparison.Compare(Memory((0x2007, 1), (2, 0), (0, 5)), Memory((0, 5), (1, 0))).Select(d => d.Address)
        );

    private static WordMemory Memory(params (int Address, int Word)[] cells) =>
        WordMemory.From(cells.Select(c => KeyValuePair.Create(c.Address, (ushort)c.Word)));
}
