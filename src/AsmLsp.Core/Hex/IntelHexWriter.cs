using System.Globalization;
using System.Text;

namespace AsmLsp.Core.Hex;

/// <summary>
/// Writes words as an Intel HEX file, after Intel's Hexadecimal Object File Format Specification, Revision A (1988): each
/// word low byte first at twice its word address, capital digits, records filled to 16 data bytes as long as addresses follow
/// on, an extended linear address record where the upper half of the address changes (it is 0 until one says otherwise), and
/// the end record.
/// </summary>
public static class IntelHexWriter
{
    private const int BytesPerRecord = 16;

    /// <summary>The text of the file. Lines end with CR and LF: every device programmer takes that.</summary>
    public static string Write(WordMemory memory, string lineEnd = "\r\n")
    {
        ArgumentNullException.ThrowIfNull(memory);
        var text = new StringBuilder();
        int upper = 0;
        var bytes = new List<byte>(BytesPerRecord);
        int start = 0;
        foreach ((int address, ushort word) in memory)
        {
            int at = address * 2;
            // An offset has 16 bits, so that a record ends where the upper half changes.
            bool follows = bytes.Count is > 0 and < BytesPerRecord && at == start + bytes.Count && (at & 0xFFFF) != 0;
            if (!follows)
                Flush();
            if (bytes.Count == 0)
                start = at;
            bytes.Add((byte)word);
            bytes.Add((byte)(word >> 8));
        }

        Flush();
        Record(0, 1, []);
        return text.ToString();

        void Flush()
        {
            if (bytes.Count == 0)
                return;
            Upper(start >> 16);
            Record(start & 0xFFFF, 0, bytes);
            bytes.Clear();
        }

        void Upper(int half)
        {
            if (half == upper)
                return;
            upper = half;
            Record(0, 4, [(byte)(half >> 8), (byte)half]);
        }

        void Record(int offset, byte type, List<byte> data)
        {
            int sum = data.Count + (offset >> 8) + offset + type;
            text.Append(CultureInfo.InvariantCulture, $":{data.Count:X2}{offset:X4}{type:X2}");
            foreach (byte b in data)
            {
                text.Append(b.ToString("X2", CultureInfo.InvariantCulture));
                sum += b;
            }

            text.Append(((byte)-sum).ToString("X2", CultureInfo.InvariantCulture)).Append(lineEnd);
        }
    }
}
