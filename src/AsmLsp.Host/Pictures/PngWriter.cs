using System.Buffers.Binary;
using System.IO.Compression;
using AsmLsp.Host.Scans;

namespace AsmLsp.Host.Pictures;

/// <summary>Writes a gray picture as a PNG file of sixteen greys (ISO/IEC 15948): enough for print, and small.</summary>
internal static class PngWriter
{
    private static readonly uint[] Remainders = MakeRemainders();

    public static byte[] Write(GrayPicture picture)
    {
        using var file = new MemoryStream();
        // Clause 5.2: the signature.
        file.Write([0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A]);
        // Clause 11.2.2: width, height, 4 bits a dot, greys, and the only methods of compression, filtering and order that there are.
        Span<byte> head = stackalloc byte[13];
        head.Clear();
        BinaryPrimitives.WriteInt32BigEndian(head, picture.Width);
        BinaryPrimitives.WriteInt32BigEndian(head[4..], picture.Height);
        head[8] = 4;
        Chunk(file, "IHDR"u8, head);
        Chunk(file, "IDAT"u8, Pack(picture));
        Chunk(file, "IEND"u8, []);
        return file.ToArray();
    }

    // Two dots a byte; filter 0 (none) in front of each row compresses print best.
    private static byte[] Pack(GrayPicture picture)
    {
        using var packed = new MemoryStream();
        using (var zlib = new ZLibStream(packed, CompressionLevel.Optimal, leaveOpen: true))
        {
            byte[] row = new byte[1 + (picture.Width + 1) / 2];
            for (int y = 0; y < picture.Height; y++)
            {
                ReadOnlySpan<byte> dots = picture.Dots.AsSpan(y * picture.Width, picture.Width);
                for (int x = 0; x < dots.Length; x += 2)
                    row[1 + x / 2] = (byte)(Gray(dots[x]) << 4 | (x + 1 < dots.Length ? Gray(dots[x + 1]) : 0));
                zlib.Write(row);
            }
        }

        return packed.ToArray();
    }

    private static int Gray(byte dot) => (dot * 15 + 127) / 255;

    // Clause 5.3: length, name, content, and the remainder of name and content.
    private static void Chunk(MemoryStream file, ReadOnlySpan<byte> name, ReadOnlySpan<byte> content)
    {
        Span<byte> number = stackalloc byte[4];
        BinaryPrimitives.WriteInt32BigEndian(number, content.Length);
        file.Write(number);
        file.Write(name);
        file.Write(content);
        BinaryPrimitives.WriteUInt32BigEndian(number, ~Remainder(Remainder(uint.MaxValue, name), content));
        file.Write(number);
    }

    private static uint Remainder(uint at, ReadOnlySpan<byte> bytes)
    {
        foreach (byte b in bytes)
            at = Remainders[(at ^ b) & 0xFF] ^ at >> 8;
        return at;
    }

    // Clause 5.5: the polynomial of ISO 3309, its bits in reverse.
    private static uint[] MakeRemainders()
    {
        uint[] table = new uint[256];
        for (uint i = 0; i < 256; i++)
        {
            uint at = i;
            for (int bit = 0; bit < 8; bit++)
                at = (at & 1) != 0 ? 0xEDB88320 ^ at >> 1 : at >> 1;
            table[i] = at;
        }

        return table;
    }
}
