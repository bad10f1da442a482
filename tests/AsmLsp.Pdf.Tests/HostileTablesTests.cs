using System.Diagnostics;
using System.Text;
using AsmLsp.Core.Printed;

namespace AsmLsp.Pdf.Tests;

/// <summary>Tables of a few bytes that speak of billions of entries: refused before anything is set aside for them.</summary>
public class HostileTablesTests
{
    private const long MostBytes = 300L * 1024 * 1024;

    [Theory]
    [InlineData("/W [0 2000000000 5]")]
    [InlineData("/W [-5 2000000000 5]")]
    [InlineData("/W 8 0 R")]
    [InlineData("/W2 [0 2000000000 5 5 5]")]
    [InlineData(
        "/W [0 65535 5 0 65535 5 0 65535 5 0 65535 5 0 65535 5 0 65535 5 0 65535 5 0 65535 5 0 65535 5 0 65535 5 0 65535 5 0 65535 5 0 65535 5 0 65535 5 0 65535 5 0 65535 5]"
    )]
    public void Widths_of_more_characters_than_there_are_are_refused(string widths) =>
        Refused(WithFont(widths, ""), PrintedFailureKind.TooLarge);

    [Theory]
    [InlineData("1 beginbfrange <00000000> <7FFFFFFF> <0041> endbfrange")]
    [InlineData("1 beginbfrange <0000> <FFFFFFFFFFFF> [<0041>] endbfrange")]
    public void Characters_of_more_codes_than_there_are_are_refused(string ranges) =>
        Refused(WithFont("", ranges), PrintedFailureKind.TooLarge);

    [Theory]
    [InlineData("/Type /XRef /W [1 2 1] /Index [0 2000000000] /Size 20")]
    [InlineData("/Type /XRef /W [1 2 1] /Size 2000000000")]
    [InlineData("/Type /XRef /W [2000000000 2000000000 1] /Size 20")]
    [InlineData("/Type /X#52ef /W [2000000000 2 1] /Size 20")]
    [InlineData("/Type /XRef /#57 [1 2000000000 1] /Size 20")]
    [InlineData("/W[-1 2 1]/Type/XRef/Size 20")]
    public void List_of_parts_that_speaks_of_more_than_there_can_be_is_refused(string dictionary)
    {
        string head = "%PDF-1.5\n1 0 obj\n<< /Type /Catalog /Pages 2 0 R >>\nendobj\n";
        byte[] file = Encoding.Latin1.GetBytes(
            $"{head}9 0 obj\n<< /Length 16 /Root 1 0 R {dictionary} >>\nstream\n{new string('\0', 16)}\nendstream\nendobj\nstartxref\n{head.Length}\n%%EOF\n"
        );
        Refused(file, PrintedFailureKind.Damaged);
    }

    [Fact]
    public void Usual_tables_are_read()
    {
        PrintedReading reading = new PdfReader().Read(
            WithFont("/W [0 [500 600] 65 90 600]", "1 beginbfrange <0041> <0042> <0041> endbfrange")
        );
        Assert.Equal("AB", Assert.Single(Assert.Single(reading.Document!.Pages).Lines).Text.Trim());
    }

    [Fact]
    public void Random_changes_of_a_document_are_read_or_refused_within_bounds()
    {
        // The same in every run; RELIST_DRAWS=N looks at N times as many, RELIST_DRAWS_FROM at others.
        int times = int.TryParse(Environment.GetEnvironmentVariable("RELIST_DRAWS"), out int n) ? n : 1;
        int from = int.TryParse(Environment.GetEnvironmentVariable("RELIST_DRAWS_FROM"), out int f) ? f : 0;
        byte[] sound = WithFont("/W [0 [500 600] 65 90 600]", "1 beginbfrange <0041> <0042> <0041> endbfrange");
        byte[][] numbers =
        [
            .. (
                (string[])
                    [
                        "0",
                        "-1",
                        "65536",
                        "2000000000",
                        "-2147483648",
                        "99999999999999999999",
                        "1e9",
                        "<<",
                        "[",
                        "(",
                        "9 0 R",
                        "1 0 R",
                    ]
            ).Select(Encoding.Latin1.GetBytes),
        ];
        for (int seed = from * 100_000; seed < from * 100_000 + 60 * times; seed++)
        {
            var random = new Random(seed);
            byte[] file = sound;
            for (int change = random.Next(1, 5); change > 0; change--)
            {
                int at = random.Next(file.Length),
                    length = Math.Min(file.Length - at, random.Next(8));
                byte[] put = random.Next(3) switch
                {
                    0 => [(byte)random.Next(256)],
                    1 => numbers[random.Next(numbers.Length)],
                    _ => file[random.Next(file.Length / 2)..][..random.Next(1, 60)],
                };
                file = [.. file[..at], .. put, .. file[(at + length)..]];
            }

            PrintedReading reading = new PdfReader(new ReadingLimits { Time = TimeSpan.FromSeconds(20) }).Read(file);
            Assert.True(reading.Document is not null || reading.Failure!.Message.Length > 0, $"Case {seed}");
        }
    }

    private static void Refused(byte[] file, PrintedFailureKind kind)
    {
        long before = GC.GetTotalAllocatedBytes();
        var watch = Stopwatch.StartNew();
        PrintedReading reading = new PdfReader().Read(file);
        Assert.Equal(kind, reading.Failure?.Kind);
        Assert.True(GC.GetTotalAllocatedBytes() - before < MostBytes || watch.Elapsed < TimeSpan.FromSeconds(2));
    }

    private static byte[] WithFont(string widths, string ranges) =>
        Pdfs.Raw([
            "<< /Type /Catalog /Pages 2 0 R >>"u8.ToArray(),
            "<< /Type /Pages /Kids [3 0 R] /Count 1 >>"u8.ToArray(),
            "<< /Type /Page /Parent 2 0 R /MediaBox [0 0 595 842] /Contents 4 0 R /Resources << /Font << /F1 5 0 R >> >> >>"u8.ToArray(),
            Pdfs.Stream("BT /F1 12 Tf 50 700 Td <00410042> Tj ET"u8.ToArray()),
            "<< /Type /Font /Subtype /Type0 /BaseFont /X /Encoding /Identity-H /DescendantFonts [6 0 R] /ToUnicode 9 0 R >>"u8.ToArray(),
            Encoding.Latin1.GetBytes(
                $"<< /Type /Font /Subtype /CIDFontType2 /BaseFont /X /CIDSystemInfo << /Registry (Adobe) /Ordering (Identity) /Supplement 0 >> /FontDescriptor 7 0 R {widths} >>"
            ),
            "<< /Type /FontDescriptor /FontName /X /Flags 4 /FontBBox [0 0 1000 1000] /ItalicAngle 0 /Ascent 800 /Descent -200 /CapHeight 700 /StemV 80 >>"u8.ToArray(),
            "[0 2000000000 5]"u8.ToArray(),
            Pdfs.Stream(
                Encoding.Latin1.GetBytes(
                    $"/CIDInit /ProcSet findresource begin 12 dict begin begincmap /CMapName /X def 1 begincodespacerange <0000> <FFFF> endcodespacerange {ranges} endcmap end end"
                )
            ),
        ]);
}
