using System.Buffers.Binary;
using System.IO.Compression;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Recovery.Evidence;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Text;
using AsmLsp.Host.Scans;
using AsmLsp.Pdf.Tests.Printing;

namespace AsmLsp.Pdf.Tests;

/// <summary>A print whose letters can be seen and not read, as its fonts do not say their meaning, goes the way of a scan.</summary>
public class IllegibleRecoveryTests
{
    [Fact]
    public void Print_without_maps_is_read_from_its_picture_with_the_doubts_of_one()
    {
        (string text, TextEncoding encoding) = TextEncoding.Decode(
            File.ReadAllBytes(Path.Combine(AppContext.BaseDirectory, "programs", "12-serial.asm"))
        );
        ProgramAnalysis truth = Assembler.Assemble(new SourceFile("12-serial.asm", SourceText.From(text, encoding)));
        byte[] print = new ChromiumPrinter().Print(Sheets.Of(text, DamageKind.None, static _ => null));
        Assert.Null(new PdfReader().Read(print).Failure);

        // The same file with the entry of the maps under another name, so that nobody finds them: the fonts themselves still know.
        int forgotten = 0;
        for (int at; (at = print.AsSpan().IndexOf("/ToUnicode"u8)) >= 0; forgotten++)
            "/NoUnicode"u8.CopyTo(print.AsSpan(at));
        Assert.True(forgotten > 0);
        string[] expected =
        [
            .. text.ReplaceLineEndings("\n").Split('\n').Select(l => l.TrimEnd()).Where(l => l.Length > 0),
        ];
        Assert.Equal(
            expected,
            new PdfReader().Read(print).Document!.Pages.SelectMany(p => p.Lines).Select(l => l.Text)
        );

        Assert.True(WithoutTables(print) > 0);
        Assert.Equal(PrintedFailureKind.Illegible, new PdfReader().Read(print).Failure!.Kind);

        PrintedReading reading = new OcrReader(new PdfReader(), new ScanOcr()).Read(print);
        Assert.True(reading.Failure is null, reading.Failure?.Message);
        Assert.All(reading.Document!.Pages.SelectMany(p => p.Lines), l => Assert.True(l.IsOcr));
        RecoveryResult result = DocumentRecovery.Run(reading.Document);
        (Outcome outcome, List<string> unreported) = RecoveryJudge.Judge(truth, result);
        Assert.True(outcome != Outcome.Silent, string.Join('\n', unreported));
        Assert.False(result.IsClean);

        // What the machine lacks is said, with the reason why it is wanted.
        PrintedFailure lacking = new OcrReader(new PdfReader(), new ScanOcr(tools: new ScanTools(null, null, null)))
            .Read(print)
            .Failure!;
        Assert.Equal(PrintedFailureKind.NoOcr, lacking.Kind);
        Assert.Contains(
            "Copying text from it gives nonsense too. Pages can be read from their pictures, but tesseract",
            lacking.Message,
            StringComparison.Ordinal
        );
    }

    // Takes the tables of characters out of the font programs; gives how many there were.
    private static int WithoutTables(byte[] pdf)
    {
        int count = 0;
        for (int at = 0, next; (next = pdf.AsSpan(at).IndexOf("stream\n"u8)) >= 0; )
        {
            at += next + 7;
            int length = pdf.AsSpan(at).IndexOf("\nendstream"u8);
            if (length < 2 || pdf[at] != 0x78)
                continue;
            using var unpacked = new MemoryStream();
            using (var zlib = new ZLibStream(new MemoryStream(pdf, at, length), CompressionMode.Decompress))
                zlib.CopyTo(unpacked);
            byte[] font = unpacked.ToArray();
            int table = font.AsSpan(0, Math.Min(font.Length, 300)).IndexOf("cmap"u8);
            if (table < 0 || !font.AsSpan().StartsWith((ReadOnlySpan<byte>)[0, 1, 0, 0]))
                continue;
            font[table] = (byte)'x';
            font.AsSpan(
                    BinaryPrimitives.ReadInt32BigEndian(font.AsSpan(table + 8)),
                    BinaryPrimitives.ReadInt32BigEndian(font.AsSpan(table + 12))
                )
                .Clear();
            using var packed = new MemoryStream();
            using (var zlib = new ZLibStream(packed, CompressionLevel.SmallestSize, leaveOpen: true))
                zlib.Write(font);
            // What is left of the old bytes comes after the end of the new ones.
            Assert.True(packed.Length <= length);
            packed.ToArray().CopyTo(pdf, at);
            count++;
        }

        return count;
    }

    [Fact]
    public void Letters_drawn_as_outlines_are_a_picture()
    {
        string outlines = string.Concat(
            Enumerable.Range(0, 300).Select(i => $"{40 + i % 30 * 12} {700 - i / 30 * 14} 6 8 re f\n")
        );
        Assert.Equal(PrintedFailureKind.ImageOnly, new PdfReader().Read(Pdfs.WithContent(outlines)).Failure!.Kind);
        Assert.Equal(
            PrintedFailureKind.Empty,
            new PdfReader().Read(Pdfs.WithContent("40 40 200 300 re f")).Failure!.Kind
        );
    }
}
