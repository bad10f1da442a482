using AsmLsp.Core.Hex;
using CsCheck;

namespace AsmLsp.Core.Tests.Hex;

public class IntelHexTests
{
    private const string End = ":00000001FF\n";

    // Records of published descriptions of the format (encyclopedia article on Intel HEX, from memory; two vendors' support
    // articles); the checksum of each was worked out anew from its bytes.
    [Theory]
    [InlineData(":10010000214601360121470136007EFE09D2190140", 0x80, 0x4621)]
    [InlineData(":100110002146017E17C20001FF5F16002148011928", 0x88, 0x4621)]
    [InlineData(":10012000194E79234623965778239EDA3F01B2CAA7", 0x90, 0x4E19)]
    [InlineData(":100130003F0156702B5E712B722B732146013421C7", 0x98, 0x013F)]
    [InlineData(":1000900089001C6B7EA7CA9200FE10D2AA00477D81", 0x48, 0x0089)]
    [InlineData(":02400E00F13F80", 0x2007, 0x3FF1)]
    [InlineData(":020000000528D1", 0, 0x2805)]
    [InlineData(":08420000030012003400FF006E", 0x2100, 0x0003)]
    public void Published_records_are_read(string record, int address, int word)
    {
        HexReading reading = IntelHexReader.Read(record + "\r\n" + End);
        // Records for other families have words of 16 bits, which is reported, but no reason to refuse the file.
        Assert.True(reading.IsUsable);
        Assert.Equal(reading.Memory.Any(cell => cell.Value > 0x3FFF) ? 1 : 0, reading.Faults.Length);
        Assert.Equal((ushort)word, reading.Memory[address]);
    }

    [Theory]
    [InlineData(":10008000AF5F67F0602703E0322CFA92007780C361", "checksum")] // a published support article prints this wrong sum
    [InlineData(":00000001FE", "checksum")]
    [InlineData(":02010002E0001B", "address record")] // right sum, but an offset that the specification does not allow
    [InlineData(":0200000005", "bytes")]
    [InlineData(":020000000528D", "digits")]
    [InlineData(":0200000005G8D1", "hexadecimal")]
    [InlineData("0200000005282D1", "start")]
    [InlineData(":0200000905" + "28C8", "type")]
    [InlineData(":0100000005FA", "half")]
    [InlineData(":020000000528D1\n:020000000628D0", "twice")]
    [InlineData(":00000001FF\n:020000000528D1", "follows")]
    public void A_faulty_record_is_reported_with_its_line(string text, string word)
    {
        HexReading reading = IntelHexReader.Read(text + "\n" + End);
        Assert.False(reading.IsUsable);
        Assert.Contains(reading.Faults, f => f.IsFatal && f.Message.Contains(word, StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("")]
    [InlineData("\n\n")]
    [InlineData(":020000000528D1\n")]
    public void A_file_without_its_end_is_not_usable(string text) => Assert.False(IntelHexReader.Read(text).IsUsable);

    [Theory]
    [InlineData(":020000000528D2", "word 0x0000", 0x2805)] // wrong checksum
    [InlineData(":040000000528D1", "word 0x0000", 0x2805)] // says four bytes, holds two
    [InlineData(":020000000528D1F", "digits", 0x2805)] // one digit too many
    public void A_lenient_reader_takes_a_faulty_record_as_it_stands_and_still_reports_it(
        string record,
        string place,
        int word
    )
    {
        Assert.Null(IntelHexReader.Read(record + "\n" + End).Memory[0]);
        HexReading reading = IntelHexReader.Read(record + "\n" + End, isLenient: true);
        Assert.False(reading.IsUsable);
        Assert.Contains(
            reading.Faults,
            f => f is { IsFatal: true, Line: 1 } && f.Message.Contains(place, StringComparison.Ordinal)
        );
        Assert.Equal((ushort)word, reading.Memory[0]);
    }

    [Fact]
    public void Comments_between_records_are_noted_once_and_ignored()
    {
        HexReading reading = IntelHexReader.Read("; made on a Tuesday\n:020000000528D1\n; <b>end</b>\n" + End);
        Assert.True(reading.IsUsable);
        Assert.Equal((1, false), (Assert.Single(reading.Faults).Line, reading.Faults[0].IsFatal));
    }

    [Fact]
    public void Blanks_case_and_line_ends_do_not_matter()
    {
        HexReading reading = IntelHexReader.Read(
            "\uFEFF  :020000040000fa\r\r\n:02000000052" + "8d1 \n\n" + End + "\u001A"
        );
        Assert.Empty(reading.Faults);
        Assert.Equal((ushort)0x2805, reading.Memory[0]);
    }

    [Fact]
    public void Addresses_in_the_upper_half_follow_their_address_record()
    {
        HexReading reading = IntelHexReader.Read(":020000040001F9\n:020000000528D1\n" + End);
        Assert.Equal((ushort)0x2805, reading.Memory[0x8000]);
    }

    [Fact]
    public void Words_are_written_in_records_of_16_bytes_as_long_as_addresses_follow_on()
    {
        WordMemory memory = WordMemory.From(
            Enumerable
                .Range(0, 9)
                .Select(i => KeyValuePair.Create(i, (ushort)0x2805))
                .Append(KeyValuePair.Create(0x2007, (ushort)0x3FF1))
                .Append(KeyValuePair.Create(0x2100, (ushort)3))
                .Append(KeyValuePair.Create(5 + 0x10, (ushort)0))
        );
        Assert.Equal(
            """
            :10000000052805280528052805280528052805 2888
            :020010000528C1
            :02002A000000D4
            :02400E00F13F80
            :024200000300B9
            :00000001FF

            """.Replace(" ", "", StringComparison.Ordinal),
            IntelHexWriter.Write(memory, "\n")
        );
    }

    [Fact]
    public void What_is_written_reads_back_the_same() =>
        Gen.Dictionary(Gen.Int[0, 0xFFFF], Gen.UShort)[0, 60]
            .Draw(cells =>
            {
                WordMemory memory = WordMemory.From(cells);
                HexReading reading = IntelHexReader.Read(IntelHexWriter.Write(memory));
                return (reading.IsUsable || memory.Count == 0) && reading.Memory.SequenceEqual(memory);
            });

    [Fact]
    public void No_record_has_more_than_sixteen_bytes_and_no_two_could_be_one() =>
        Gen.Dictionary(Gen.Int[0, 0x2200], Gen.UShort)[1, 200]
            .Draw(cells =>
            {
                (int Offset, int Count)[] records =
                [
                    .. IntelHexWriter
                        .Write(WordMemory.From(cells), "\n")
                        .Split('\n')
                        .Where(l => l.Length > 11 && l[7..9] == "00")
                        .Select(l => (Convert.ToInt32(l[3..7], 16), Convert.ToInt32(l[1..3], 16))),
                ];
                return records.All(r => r.Count is > 0 and <= 16)
                    && records
                        .Zip(records.Skip(1))
                        .All(p => p.First.Count == 16 || p.First.Offset + p.First.Count < p.Second.Offset);
            });

    [Fact]
    public void Nothing_makes_the_reader_fail() =>
        Gen.OneOf(Gen.String, Gen.Const(":02000000"), Gen.Const(":00000001FF\n"), Gen.Const("\r"))
            .List[0, 20]
            .Select(string.Concat)
            .Draw(text => IntelHexReader.Read(text).Faults.Length <= 101);
}
