using System.Buffers.Binary;
using System.IO.Compression;
using System.Text;

namespace AsmLsp.Pdf.Tests;

/// <summary>A PNG file of sixteen greys read dot by dot (ISO/IEC 15948), apart from what wrote it.</summary>
internal sealed class PngPicture
{
    private readonly byte[] dots;

    private PngPicture(int width, int height, byte[] dots) => (Width, Height, this.dots) = (width, height, dots);

    public int Width { get; }

    public int Height { get; }

    public static PngPicture Read(byte[] file)
    {
        Assert.Equal([0x89, (byte)'P', (byte)'N', (byte)'G', 13, 10, 26, 10], file[..8]);
        int width = 0,
            height = 0;
        using var packed = new MemoryStream();
        for (int at = 8; at < file.Length; )
        {
            int length = BinaryPrimitives.ReadInt32BigEndian(file.AsSpan(at));
            string name = Encoding.ASCII.GetString(file, at + 4, 4);
            ReadOnlySpan<byte> content = file.AsSpan(at + 8, length);
            if (name == "IHDR")
            {
                width = BinaryPrimitives.ReadInt32BigEndian(content);
                height = BinaryPrimitives.ReadInt32BigEndian(content[4..]);
                Assert.Equal([4, 0, 0, 0, 0], content[8..].ToArray());
            }
            else if (name == "IDAT")
            {
                packed.Write(content);
            }

            at += length + 12;
        }

        packed.Position = 0;
        byte[] dots = new byte[width * height],
            row = new byte[1 + (width + 1) / 2];
        using var rows = new ZLibStream(packed, CompressionMode.Decompress);
        for (int y = 0; y < height; y++)
        {
            rows.ReadExactly(row);
            Assert.Equal(0, row[0]);
            for (int x = 0; x < width; x++)
                dots[y * width + x] = (byte)((x % 2 == 0 ? row[1 + x / 2] >> 4 : row[1 + x / 2] & 15) * 17);
        }

        return new PngPicture(width, height, dots);
    }

    /// <summary>Whether a part of it has a dark dot.</summary>
    public bool HasInk(int left, int top, int width, int height)
    {
        for (int y = Math.Max(0, top); y < Math.Min(Height, top + height); y++)
        for (int x = Math.Max(0, left); x < Math.Min(Width, left + width); x++)
            if (dots[y * Width + x] < 100)
                return true;
        return false;
    }
}
