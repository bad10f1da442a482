using System.Diagnostics;
using System.Text;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Tests;
using CsCheck;
using UglyToad.PdfPig.Fonts.Standard14Fonts;

namespace AsmLsp.Pdf.Tests;

public class PdfLimitsTests
{
    private static PrintedFailure Fails(byte[] file, ReadingLimits? limits = null)
    {
        PrintedReading reading = new PdfReader(limits).Read(file);
        Assert.Null(reading.Document);
        Assert.False(string.IsNullOrWhiteSpace(reading.Failure!.Message));
        return reading.Failure;
    }

    private static byte[] Sound() =>
        Pdfs.Pages(
            (p, font) =>
                Pdfs.Listing(
                    p,
                    font(Standard14Font.Courier),
                    Enumerable.Range(0, 40).Select(i => $"        movlw   0x{i:X2}")
                ),
            (p, font) =>
                Pdfs.Listing(
                    p,
                    font(Standard14Font.Courier),
                    Enumerable.Range(0, 40).Select(i => $"        addlw   0x{i:X2}")
                )
        );

    [Fact]
    public void Header_alone_is_damaged() =>
        Assert.Equal(PrintedFailureKind.Damaged, Fails("%PDF-1.4\n"u8.ToArray()).Kind);

    [Fact]
    public void Random_bytes_after_a_header_never_throw()
    {
        Gen.Byte.Array[0, 3000]
            .Draw(
                bytes =>
                {
                    PrintedReading reading = new PdfReader(new ReadingLimits { Time = TimeSpan.FromSeconds(5) }).Read(
                        (byte[])[.. "%PDF-1.7\n"u8, .. bytes]
                    );
                    Assert.NotNull(reading.Failure);
                },
                iter: 60
            );
    }

    [Fact]
    public void Packed_bomb_is_too_large()
    {
        var limits = new ReadingLimits { UnpackedPart = 4 * 1024 * 1024 };
        byte[] bomb = Pdfs.Stream(new byte[8 * 1024 * 1024], pack: true);
        Assert.True(bomb.Length < 20_000);
        byte[] file = Pdfs.Raw([
            "<< /Type /Catalog /Pages 2 0 R >>"u8.ToArray(),
            "<< /Type /Pages /Kids [3 0 R] /Count 1 >>"u8.ToArray(),
            "<< /Type /Page /Parent 2 0 R /MediaBox [0 0 595 842] /Contents 4 0 R /Resources << >> >>"u8.ToArray(),
            bomb,
        ]);
        Assert.Equal(PrintedFailureKind.TooLarge, Fails(file, limits).Kind);
    }

    [Fact]
    public void Packed_bomb_in_a_bomb_is_too_large()
    {
        var limits = new ReadingLimits { UnpackedPart = 4 * 1024 * 1024 };
        byte[] inner = Packed(Packed(new byte[64 * 1024 * 1024]));
        byte[] file = Pdfs.Raw([
            "<< /Type /Catalog /Pages 2 0 R >>"u8.ToArray(),
            "<< /Type /Pages /Kids [3 0 R] /Count 1 >>"u8.ToArray(),
            "<< /Type /Page /Parent 2 0 R /MediaBox [0 0 595 842] /Contents 4 0 R /Resources << >> >>"u8.ToArray(),
            Pdfs.Stream(inner, "/Filter [/FlateDecode /FlateDecode]"),
        ]);
        Assert.Equal(PrintedFailureKind.TooLarge, Fails(file, limits).Kind);
    }

    [Fact]
    public void Lzw_that_unpacks_to_too_much_is_too_large()
    {
        // A clear, one blank, then codes that each mean one byte more than the one before (TIFF 6.0, section 13).
        var bits = new List<bool>();
        void Code(int code, int width)
        {
            for (int bit = width - 1; bit >= 0; bit--)
                bits.Add(((code >> bit) & 1) != 0);
        }

        Code(256, 9);
        Code(' ', 9);
        for (int code = 258; code < 4094; code++)
            Code(
                code,
                code < 511 ? 9
                    : code < 1023 ? 10
                    : code < 2047 ? 11
                    : 12
            );
        Code(257, 12);
        byte[] packed = [.. bits.Chunk(8).Select(eight => (byte)eight.Select((on, i) => on ? 0x80 >> i : 0).Sum())];
        byte[] file = Pdfs.Raw([
            "<< /Type /Catalog /Pages 2 0 R >>"u8.ToArray(),
            "<< /Type /Pages /Kids [3 0 R] /Count 1 >>"u8.ToArray(),
            "<< /Type /Page /Parent 2 0 R /MediaBox [0 0 595 842] /Contents 4 0 R /Resources << >> >>"u8.ToArray(),
            Pdfs.Stream(packed, "/Filter /LZWDecode"),
        ]);
        // 1 + 2 + ... + 3837 bytes: seven million from six thousand.
        Assert.Equal(PrintedFailureKind.TooLarge, Fails(file, new ReadingLimits { UnpackedPart = 5_000_000 }).Kind);
        Assert.Equal(PrintedFailureKind.Empty, Fails(file, new ReadingLimits { UnpackedPart = 8_000_000 }).Kind);
    }

    [Fact]
    public void Runs_that_unpack_to_too_much_are_too_large()
    {
        var runs = new byte[80_000];
        for (int i = 0; i < runs.Length; i += 2)
            (runs[i], runs[i + 1]) = (129, (byte)' ');
        byte[] file = Pdfs.Raw([
            "<< /Type /Catalog /Pages 2 0 R >>"u8.ToArray(),
            "<< /Type /Pages /Kids [3 0 R] /Count 1 >>"u8.ToArray(),
            "<< /Type /Page /Parent 2 0 R /MediaBox [0 0 595 842] /Contents 4 0 R /Resources << >> >>"u8.ToArray(),
            Pdfs.Stream(runs, "/Filter /RunLengthDecode"),
        ]);
        Assert.Equal(PrintedFailureKind.TooLarge, Fails(file, new ReadingLimits { UnpackedPart = 1024 * 1024 }).Kind);
    }

    [Fact]
    public void Drawings_that_use_each_other_ten_times_over_are_too_large()
    {
        // Ten levels of ten uses each: ten thousand million lines of text from a small file.
        string resources = string.Join(' ', Enumerable.Range(0, 11).Select(i => $"/X{i} {7 + i} 0 R"));
        byte[][] forms =
        [
            .. Enumerable
                .Range(0, 11)
                .Select(i =>
                    Pdfs.Stream(
                        Encoding.ASCII.GetBytes(
                            i < 10 ? string.Concat(Enumerable.Repeat($"/X{i + 1} Do ", 10)) : "BT /F1 9 Tf (ha) Tj ET"
                        ),
                        $"/Type /XObject /Subtype /Form /BBox [0 0 9 9] /Resources << /Font << /F1 5 0 R >> /XObject << {resources} >> >>"
                    )
                ),
        ];
        var limits = new ReadingLimits { LettersOnPage = 2_000, Time = TimeSpan.FromSeconds(20) };
        Assert.Equal(
            PrintedFailureKind.TooLarge,
            Fails(Pdfs.WithContent("/X0 Do", "", $"/XObject << {resources} >>", forms), limits).Kind
        );
    }

    [Fact]
    public void Drawing_that_uses_itself_ends()
    {
        byte[] form = Pdfs.Stream(
            "BT /F1 9 Tf 50 50 Td (ha) Tj ET /X1 Do"u8.ToArray(),
            "/Type /XObject /Subtype /Form /BBox [0 0 99 99] /Resources << /Font << /F1 5 0 R >> /XObject << /X1 7 0 R >> >>"
        );
        PrintedReading reading = new PdfReader().Read(Pdfs.WithContent("/X1 Do", "", "/XObject << /X1 7 0 R >>", form));
        Assert.Equal("ha", Assert.Single(reading.Document!.Pages[0].Lines).Text);
    }

    [Fact]
    public void Pages_that_are_their_own_parents_end()
    {
        byte[] file = Pdfs.Raw("<< /Type /Catalog /Pages 2 0 R >>", "<< /Type /Pages /Kids [2 0 R 2 0 R] /Count 2 >>");
        Assert.Equal(
            PrintedFailureKind.Damaged,
            Fails(file, new ReadingLimits { Time = TimeSpan.FromSeconds(5) }).Kind
        );
    }

    [Fact]
    public void Deep_tree_of_pages_ends()
    {
        const int Depth = 20_000;
        string[] objects =
        [
            "<< /Type /Catalog /Pages 2 0 R >>",
            .. Enumerable.Range(2, Depth).Select(i => $"<< /Type /Pages /Kids [{i + 1} 0 R] /Count 1 >>"),
            "<< /Type /Page /MediaBox [0 0 9 9] >>",
        ];
        Fails(Pdfs.Raw(objects), new ReadingLimits { Time = TimeSpan.FromSeconds(20) });
    }

    [Theory]
    [InlineData("[")]
    [InlineData("<< /A ")]
    public void Deep_nesting_ends(string open)
    {
        Fails(
            Pdfs.Raw("<< /Type /Catalog /Pages " + string.Concat(Enumerable.Repeat(open, 200_000))),
            new ReadingLimits { Time = TimeSpan.FromSeconds(20) }
        );
        Fails(
            Pdfs.WithContent(string.Concat(Enumerable.Repeat(open, 200_000))),
            new ReadingLimits { Time = TimeSpan.FromSeconds(20) }
        );
    }

    [Fact]
    public void Too_many_bytes_pages_or_letters_are_too_large()
    {
        byte[] file = Sound();
        Assert.Equal(PrintedFailureKind.TooLarge, Fails(file, new ReadingLimits { FileBytes = file.Length - 1 }).Kind);
        Assert.Equal(PrintedFailureKind.TooLarge, Fails(file, new ReadingLimits { Pages = 1 }).Kind);
        Assert.Equal(PrintedFailureKind.TooLarge, Fails(file, new ReadingLimits { Letters = 1_000 }).Kind);
        Assert.Equal(PrintedFailureKind.TooLarge, Fails(file, new ReadingLimits { LettersOnPage = 500 }).Kind);
        Assert.Equal(PrintedFailureKind.TooLarge, Fails(file, new ReadingLimits { OperationsOnPage = 50 }).Kind);
    }

    [Fact]
    public void Time_that_is_up_ends_the_work()
    {
        long start = Stopwatch.GetTimestamp();
        Assert.Equal(PrintedFailureKind.TooLarge, Fails(Sound(), new ReadingLimits { Time = TimeSpan.Zero }).Kind);
        Assert.InRange(Stopwatch.GetElapsedTime(start).TotalMinutes, 0, 3);
    }

    private static byte[] Packed(byte[] data)
    {
        byte[] stream = Pdfs.Stream(data, pack: true);
        int start = stream.AsSpan().IndexOf("stream\n"u8) + 7;
        return stream[start..^"\nendstream".Length];
    }
}
