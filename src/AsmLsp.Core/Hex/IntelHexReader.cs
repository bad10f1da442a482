using System.Collections.Immutable;
using System.Globalization;

namespace AsmLsp.Core.Hex;

/// <summary>Something wrong in a HEX file.</summary>
/// <param name="Line">Line of the file, from 1.</param>
/// <param name="Column">Column of the line, from 1.</param>
/// <param name="IsFatal">Whether the words cannot be trusted; else it is only worth knowing.</param>
/// <param name="Message">What is wrong, for people.</param>
public sealed record HexFault(int Line, int Column, bool IsFatal, string Message);

/// <summary>A record of a HEX file, as far as its digits can be read.</summary>
/// <param name="Line">Line of the file, from 1.</param>
/// <param name="Column">Column of its ':', from 1; the digits follow: two for the length, four for the offset, two for the type, then data and checksum.</param>
/// <param name="Type">The record type, 0 for data.</param>
/// <param name="ByteAddress">Where its data go: the address of the first byte, with the address records before it.</param>
/// <param name="Length">How many data bytes it holds.</param>
/// <param name="IsSound">Whether its checksum is right.</param>
public readonly record struct HexRecord(int Line, int Column, int Type, uint ByteAddress, int Length, bool IsSound);

/// <summary>A HEX file read: its words, and what is wrong with it.</summary>
public sealed record HexReading(WordMemory Memory, ImmutableArray<HexFault> Faults)
{
    /// <summary>The records, in their order.</summary>
    public ImmutableArray<HexRecord> Records { get; init; } = [];

    /// <summary>Whether the words can be trusted.</summary>
    public bool IsUsable => !Faults.Any(f => f.IsFatal);
}

/// <summary>
/// Reads Intel HEX files, after Intel's Hexadecimal Object File Format Specification, Revision A (1988), record types 00 to
/// 05. Never fails: what is wrong is reported with its line.
/// </summary>
public static class IntelHexReader
{
    private const int MostFaults = 100;

    /// <summary>Reads the text of a file.</summary>
    /// <param name="text">The text, one record a line.</param>
    /// <param name="isLenient">
    /// Whether records with a wrong checksum or of a wrong length are taken as they are, as far as their digits reach.
    /// Their faults are reported just the same.
    /// </param>
    public static HexReading Read(string text, bool isLenient = false)
    {
        ArgumentNullException.ThrowIfNull(text);
        var reading = new Reader(isLenient);
        int number = 0;
        int start = MarkLength(text);
        while (start < text.Length && !reading.IsFull)
        {
            int end = text.AsSpan(start).IndexOfAny('\r', '\n');
            end = end < 0 ? text.Length : start + end;
            number++;
            reading.Line(text.AsSpan(start, end - start), number);
            start = end + (end + 1 < text.Length && text[end] == '\r' && text[end + 1] == '\n' ? 2 : 1);
        }

        return reading.Finish(number);
    }

    // The byte order mark of UTF-8, as one character or, in a file read byte by byte, as three.
    private static int MarkLength(string text) =>
        text.StartsWith('\uFEFF') ? 1
        : text.StartsWith("\u00EF\u00BB\u00BF", StringComparison.Ordinal) ? 3
        : 0;

    private sealed class Reader(bool isLenient)
    {
        private const uint LastByteAddress = 0x1FFFF;

        private readonly Dictionary<int, (byte Value, int Line)> bytes = [];
        private readonly List<HexFault> faults = [];
        private readonly List<HexRecord> read = [];
        private uint baseAddress;
        private bool isSegment;
        private bool reportedFarAway;
        private bool reportedOverlap;
        private bool reportedComment;
        private bool ended;
        private bool reportedAfterEnd;
        private int records;

        public bool IsFull => faults.Count >= MostFaults;

        public void Line(ReadOnlySpan<char> line, int number)
        {
            int lead = line.Length - line.TrimStart().Length;
            line = line.Trim();
            if (line.IsEmpty || (line.Length == 1 && line[0] == '\u001A'))
                return;
            if (line[0] is ';' or '#')
            {
                if (!reportedComment)
                    Fault(
                        number,
                        lead,
                        false,
                        "This line is a comment, which the format does not know. Such lines are ignored."
                    );
                reportedComment = true;
                return;
            }

            if (line[0] != ':')
            {
                Fault(number, lead, true, "This line does not start with ':', so it is not a record of a HEX file.");
                return;
            }

            if (ended)
            {
                if (!reportedAfterEnd)
                    Fault(number, lead, true, "A record follows the end record. Are two files joined here?");
                reportedAfterEnd = true;
                return;
            }

            if (line.Length < 11 || line.Length % 2 == 0)
            {
                Fault(
                    number,
                    lead,
                    true,
                    $"The record has {line.Length - 1} digits after the ':'; it must be an even number, at least 10. Is the line cut off?"
                );
                if (!isLenient || line.Length < 11)
                    return;
                line = line[..^1];
            }

            Span<byte> data =
                line.Length <= 1024 ? stackalloc byte[(line.Length - 1) / 2] : new byte[(line.Length - 1) / 2];
            byte sum = 0;
            for (int i = 0; i < data.Length; i++)
            {
                if (
                    !byte.TryParse(
                        line.Slice(1 + 2 * i, 2),
                        NumberStyles.AllowHexSpecifier,
                        CultureInfo.InvariantCulture,
                        out data[i]
                    )
                )
                {
                    Fault(number, lead + 1 + 2 * i, true, $"'{line.Slice(1 + 2 * i, 2)}' is not a hexadecimal number.");
                    return;
                }

                sum += data[i];
            }

            if (data.Length != data[0] + 5)
            {
                Fault(
                    number,
                    lead + 1,
                    true,
                    $"The record at {Place(data)} says that it holds {data[0]} bytes, but it holds {data.Length - 5}."
                );
                if (isLenient && data[3] == 0)
                    Record(data.Length > data[0] + 5 ? data[..(data[0] + 5)] : data, number, lead);
                return;
            }

            read.Add(
                new HexRecord(
                    number,
                    lead + 1,
                    data[3],
                    baseAddress + (uint)((data[1] << 8) | data[2]),
                    data[0],
                    sum == 0
                )
            );
            if (sum != 0)
            {
                byte right = (byte)(data[^1] - sum);
                Fault(
                    number,
                    lead + line.Length - 2,
                    true,
                    $"The checksum of the record at {Place(data)} is {data[^1]:X2}, but its bytes give {right:X2}: a digit of this line is wrong."
                );
                if (!isLenient)
                    return;
            }

            records++;
            Record(data, number, lead);
        }

        public HexReading Finish(int lines)
        {
            if (records == 0 && faults.Count == 0)
                Fault(Math.Max(1, lines), 0, true, "There is no record in this file.");
            else if (!ended && !IsFull)
                Fault(Math.Max(1, lines), 0, true, "The end record is missing: the file is not complete.");
            var words = new SortedDictionary<int, ushort>();
            foreach ((int address, (byte value, int line)) in bytes)
            {
                if (!bytes.ContainsKey(address ^ 1))
                    Fault(
                        line,
                        0,
                        true,
                        $"Only half of the word at address 0x{address >> 1:X4} is in the file: the {(address % 2 == 0 ? "high" : "low")} byte, at byte address 0x{address ^ 1:X4}, is missing."
                    );
                words.TryGetValue(address >> 1, out ushort so);
                words[address >> 1] = (ushort)(so | (address % 2 == 0 ? value : value << 8));
            }

            ReportWideWord(words);
            return new HexReading(WordMemory.From(words), [.. faults.OrderBy(f => f.Line)]) { Records = [.. read] };
        }

        // Where a record says that its bytes go: the word that a person finds in a listing.
        private string Place(ReadOnlySpan<byte> record)
        {
            uint far = baseAddress + (uint)((record[1] << 8) | record[2]);
            return record[3] != 0
                ? string.Create(CultureInfo.InvariantCulture, $"type {record[3]:X2}")
                : string.Create(CultureInfo.InvariantCulture, $"word 0x{far >> 1:X4}");
        }

        // These chips have 14 bits a word; a file that fills all 16 is usually one for another family. Reported once.
        private void ReportWideWord(SortedDictionary<int, ushort> words)
        {
            foreach ((int address, ushort word) in words)
            {
                // 0xFFFF is an erased word of a file that fills all 16 bits.
                if (word is <= 0x3FFF or 0xFFFF)
                    continue;
                int line = bytes.TryGetValue(address * 2 + 1, out (byte, int Line) high) ? high.Line : 1;
                Fault(
                    line,
                    0,
                    false,
                    $"The word at address 0x{address:X4} is 0x{word:X4}: more than the 14 bits that these chips have. Is this file for another family of chips?"
                );
                return;
            }
        }

        private void Record(ReadOnlySpan<byte> record, int number, int lead)
        {
            ReadOnlySpan<byte> data = record[4..^1];
            int offset = (record[1] << 8) | record[2];
            switch (record[3])
            {
                case 0:
                    // Offsets wrap within a segment; linear addresses run on, and wrap after the last of 32 bits.
                    for (int i = 0; i < data.Length; i++)
                    {
                        uint inside = (uint)(offset + i);
                        Byte(
                            unchecked(baseAddress + (isSegment ? inside & 0xFFFF : inside)),
                            data[i],
                            number,
                            lead + 9 + 2 * i
                        );
                    }

                    break;
                case 1:
                    ended = true;
                    if (data.Length > 0)
                        Fault(number, lead, true, "The end record must not hold data.");
                    break;
                case 2 or 4:
                    if (data.Length != 2 || offset != 0)
                    {
                        Fault(number, lead, true, "An address record must hold two bytes and the offset 0000.");
                        break;
                    }

                    uint value = (uint)((data[0] << 8) | data[1]);
                    isSegment = record[3] == 2;
                    baseAddress = isSegment ? value << 4 : value << 16;
                    break;
                case 3 or 5:
                    if (data.Length != 4)
                        Fault(number, lead, true, "A start address record must hold four bytes.");
                    break;
                default:
                    Fault(number, lead + 7, true, $"Record type {record[3]:X2} does not exist.");
                    break;
            }
        }

        private void Byte(uint far, byte value, int number, int column)
        {
            if (far > LastByteAddress)
            {
                if (!reportedFarAway)
                    Fault(
                        number,
                        column,
                        true,
                        $"Byte address 0x{far:X} is far outside a mid-range chip: this file is for another family of chips."
                    );
                reportedFarAway = true;
                return;
            }

            int address = (int)far;
            if (bytes.TryGetValue(address, out (byte Value, int Line) earlier) && earlier.Value != value)
                Fault(
                    number,
                    column,
                    true,
                    $"Byte address 0x{address:X4} is given twice with different values, {earlier.Value:X2} and {value:X2}."
                );
            else if (bytes.ContainsKey(address) && !reportedOverlap)
            {
                Fault(
                    number,
                    column,
                    false,
                    $"Byte address 0x{address:X4} is given again with the same value, first in line {earlier.Line}: two records overlap."
                );
                reportedOverlap = true;
            }

            bytes[address] = (value, number);
        }

        private void Fault(int line, int column, bool fatal, string message)
        {
            if (!IsFull)
                faults.Add(new HexFault(line, column + 1, fatal, message));
        }
    }
}
