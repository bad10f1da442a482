using AsmLsp.Core.Hex;

namespace AsmLsp.Core.Tests.Hex;

/// <summary>
/// Where bytes go and on which line faults are reported. The address rules (linear addresses run on past 64 K, offsets within a
/// segment wrap) are from memory of Intel's Hexadecimal Object File Format Specification, Revision A (1988); objcopy (binutils) and
/// python3-intelhex read the linear record below in the same way.
/// </summary>
public class IntelHexAddressTests
{
    private const string End = ":00000001FF\n";

    [Theory]
    [InlineData(":020000048000" + "7A")] // 0x80000000: its top bit must not be lost
    [InlineData(":02000004FFFFFC")]
    [InlineData(":020000040800F2")]
    public void Data_far_above_these_chips_is_refused_and_never_folded_down(string addressRecord)
    {
        HexReading reading = IntelHexReader.Read(addressRecord + "\n:020000000528D1\n" + End);
        HexFault fault = Assert.Single(reading.Faults);
        Assert.True(fault.IsFatal);
        Assert.Equal(2, fault.Line);
        Assert.Contains("another family", fault.Message, StringComparison.Ordinal);
        Assert.Equal(0, reading.Memory.Count);
    }

    [Fact]
    public void Linear_addresses_run_on_past_64_K()
    {
        HexReading reading = IntelHexReader.Read(":04FFFE000528FF3F94\n" + End);
        Assert.Empty(reading.Faults);
        Assert.Equal((ushort)0x2805, reading.Memory[0x7FFF]);
        Assert.Equal((ushort)0x3FFF, reading.Memory[0x8000]);
        Assert.Null(reading.Memory[0]);
    }

    [Fact]
    public void Offsets_within_a_segment_wrap()
    {
        HexReading reading = IntelHexReader.Read(":020000020000FC\n:04FFFE000528FF3F94\n" + End);
        Assert.Empty(reading.Faults);
        Assert.Equal((ushort)0x2805, reading.Memory[0x7FFF]);
        Assert.Equal((ushort)0x3FFF, reading.Memory[0]);
    }

    [Fact]
    public void A_segment_moves_the_data_that_follows()
    {
        HexReading reading = IntelHexReader.Read(":020000020400F8\n:02000E00F13FC0\n" + End);
        Assert.Empty(reading.Faults);
        Assert.Equal((ushort)0x3FF1, reading.Memory[0x2007]);
    }

    [Fact]
    public void Half_a_word_is_reported_on_the_line_that_brings_it()
    {
        HexReading reading = IntelHexReader.Read(":020000000528D1\n:01001000" + "05EA\n" + End);
        HexFault fault = Assert.Single(reading.Faults);
        Assert.Equal((2, true), (fault.Line, fault.IsFatal));
        Assert.Contains("0x0008", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_word_may_be_brought_by_two_records()
    {
        HexReading reading = IntelHexReader.Read(":0100000005FA\n:0100010028D6\n" + End);
        Assert.Empty(reading.Faults);
        Assert.Equal((ushort)0x2805, reading.Memory[0]);
    }

    [Fact]
    public void Records_that_overlap_with_the_same_bytes_are_noted_and_usable()
    {
        HexReading reading = IntelHexReader.Read(":020000000528D1\n:020000000528D1\n" + End);
        HexFault fault = Assert.Single(reading.Faults);
        Assert.Equal((2, false), (fault.Line, fault.IsFatal));
        Assert.Contains("overlap", fault.Message, StringComparison.Ordinal);
        Assert.True(reading.IsUsable);
    }

    // A file read as single bytes shows the three bytes of the UTF-8 mark as characters of their own.
    [Theory]
    [InlineData("\uFEFF")]
    [InlineData("\u00EF\u00BB\u00BF")]
    public void A_byte_order_mark_is_no_part_of_the_first_record(string mark) =>
        Assert.Empty(IntelHexReader.Read(mark + ":020000000528D1\n" + End).Faults);

    [Fact]
    public void Words_of_more_than_14_bits_are_reported_once_and_kept()
    {
        HexReading reading = IntelHexReader.Read(":040000000528FFEFE1\n:02001000FFEF00\n" + End);
        HexFault fault = Assert.Single(reading.Faults);
        Assert.Equal((1, false), (fault.Line, fault.IsFatal));
        Assert.Equal((ushort)0xEFFF, reading.Memory[1]);
        Assert.True(reading.IsUsable);
    }

    [Fact]
    public void Faults_come_in_order_of_their_lines()
    {
        HexReading reading = IntelHexReader.Read(":01001000" + "05EA\n:020000000528D0\n" + End);
        Assert.Equal([1, 2], reading.Faults.Select(f => f.Line));
    }
}
