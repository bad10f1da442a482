using System.Globalization;
using AsmLsp.Core.Hex;
using CsCheck;

namespace AsmLsp.Core.Tests.Fuzz;

/// <summary>Random memories as HEX, read by a reader of these tests; and HEX with one character changed, which is never taken for another program.</summary>
public class HexFuzzTests
{
    [Fact]
    public void What_is_written_says_the_same_to_another_reader_and_to_ours() =>
        Draws.Of(
            Gen.Int[0, int.MaxValue - 1],
            300,
            seed =>
            {
                SortedDictionary<int, ushort> words = Words(new Random(seed));
                string hex = IntelHexWriter.Write(WordMemory.From(words));
                Assert.Equal(words, ReadPlainly(hex));
                HexReading reading = IntelHexReader.Read(hex);
                Assert.True(reading.IsUsable);
                Assert.Empty(reading.Faults);
                Assert.Equal(words, reading.Memory.Select(cell => cell));
            }
        );

    [Fact]
    public void One_changed_character_is_a_fault_or_changes_nothing() =>
        Draws.Of(
            Gen.Int[0, int.MaxValue - 1],
            2000,
            seed =>
            {
                var random = new Random(seed);
                SortedDictionary<int, ushort> words = Words(random);
                char[] hex = IntelHexWriter.Write(WordMemory.From(words)).ToCharArray();
                hex[random.Next(hex.Length)] = "0123456789ABCDEFabcdef:\r\n \tGx\0é"[random.Next(31)];
                HexReading reading = IntelHexReader.Read(new string(hex));
                if (reading.IsUsable && reading.Faults.IsEmpty)
                    Assert.Equal(words, reading.Memory.Select(cell => cell));
            }
        );

    // As the format is published (Intel, Hexadecimal Object File Format Specification, revision A): only what the writer uses.
    private static SortedDictionary<int, ushort> ReadPlainly(string hex)
    {
        var bytes = new SortedDictionary<int, byte>();
        int high = 0;
        bool ended = false;
        foreach (string line in hex.Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(l => l.TrimEnd('\r')))
        {
            Assert.False(ended);
            Assert.Equal(':', line[0]);
            byte[] record = Convert.FromHexString(line[1..]);
            Assert.Equal(record.Length, record[0] + 5);
            Assert.Equal(0, record.Sum(b => b) & 0xFF);
            int address = (record[1] << 8) | record[2];
            switch (record[3])
            {
                case 0:
                    for (int i = 0; i < record[0]; i++)
                        bytes.Add(high + address + i, record[4 + i]);
                    break;
                case 1:
                    ended = true;
                    break;
                case 4:
                    high = ((record[4] << 8) | record[5]) << 16;
                    break;
                default:
                    Assert.Fail("record type " + record[3].ToString(CultureInfo.InvariantCulture));
                    break;
            }
        }

        Assert.True(ended);
        var words = new SortedDictionary<int, ushort>();
        foreach ((int address, byte value) in bytes)
            words[address / 2] = (ushort)(words.GetValueOrDefault(address / 2) | (value << (address % 2 * 8)));
        return words;
    }

    private static SortedDictionary<int, ushort> Words(Random random)
    {
        var words = new SortedDictionary<int, ushort>();
        int[] starts = [0, 4, 0x7F0, 0x800, 0x1FFE, 0x2000, 0x2007, 0x2100, 0x21F0];
        for (int run = random.Next(1, 6); run > 0; run--)
        {
            int at = starts[random.Next(starts.Length)] + random.Next(4);
            for (int i = random.Next(1, 40); i > 0; i--)
                words[at++] = (ushort)random.Next(0x4000);
        }

        return words;
    }
}
