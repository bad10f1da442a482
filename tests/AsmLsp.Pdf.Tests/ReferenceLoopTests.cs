using System.Text;
using AsmLsp.Core.Printed;

namespace AsmLsp.Pdf.Tests;

/// <summary>Values that mean each other in a circle would end the whole program: the stack runs out.</summary>
public class ReferenceLoopTests
{
    private const string Page =
        "<< /Type /Page /Parent 2 0 R /MediaBox 6 0 R /Resources << /Font << /F1 4 0 R >> /ColorSpace << /C 7 0 R >> >> /Contents 5 0 R >>";
    private const string Font = "<< /Type /Font /Subtype /Type1 /BaseFont /Courier >>";

    private static byte[] With(string font, string box, string color, params string[] more) =>
        Pdfs.Raw([
            .. (
                (string[])["<< /Type /Catalog /Pages 2 0 R >>", "<< /Type /Pages /Kids [3 0 R] /Count 1 >>", Page, font]
            ).Select(Encoding.ASCII.GetBytes),
            Pdfs.Stream("/C cs 0.1 sc BT /F1 9 Tf 50 700 Td (nop) Tj ET"u8.ToArray()),
            .. ((string[])[box, color, .. more]).Select(Encoding.ASCII.GetBytes),
        ]);

    [Fact]
    public void File_without_a_circle_is_read()
    {
        PrintedReading reading = new PdfReader().Read(
            With(Font, "8 0 R", "[/Indexed /DeviceGray 1 <00ff>]", "9 0 R", "[0 0 595 842]")
        );
        Assert.Equal("nop", Assert.Single(reading.Document!.Pages[0].Lines).Text);
    }

    [Theory]
    [InlineData(Font, "6 0 R", "[/DeviceGray]")]
    [InlineData(Font, "8 0 R", "[/DeviceGray]", "9 0 R", "8 0 R")]
    [InlineData(Font, "8 0 R", "[/DeviceGray]", "% a remark\n 6 0 R")]
    [InlineData(Font, "[0 0 595 842]", "[/Indexed 7 0 R 1 <00ff>]")]
    [InlineData(Font, "[0 0 595 842]", "[/Separation /Spot 7 0 R 8 0 R]", "<< /FunctionType 2 /Domain [0 1] /N 1 >>")]
    [InlineData(
        Font,
        "[0 0 595 842]",
        "[/Separation /Spot /DeviceGray 8 0 R]",
        "<< /FunctionType 3 /Domain [0 1] /Functions [8 0 R] /Bounds [] /Encode [0 1] >>"
    )]
    [InlineData(
        "<< /Type /Font /Subtype /Type1 /BaseFont /Courier /Encoding 8 0 R >>",
        "[0 0 595 842]",
        "[/DeviceGray]",
        "8 0 R"
    )]
    public void Circle_is_reported_as_damage(string font, string box, string color, params string[] more)
    {
        PrintedReading reading = new PdfReader().Read(With(font, box, color, more));
        Assert.Equal(PrintedFailureKind.Damaged, reading.Failure!.Kind);
        Assert.Contains("circle", reading.Failure.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void Circle_in_a_stream_of_objects_is_found(bool isPacked)
    {
        // ISO 32000-1, 7.5.7: pairs of number and offset, then the objects.
        byte[] data = "8 0 9 6 8 0 R 9 0 R"u8.ToArray();
        var loops = new ReferenceLoops();
        if (isPacked)
        {
            Assert.True(loops.AddStream("8 0 9 6 9 0 R 8 0 R"u8, "8 0 9 6 ".Length));
            Assert.False(new ReferenceLoops().AddStream("8 0 9 6 9 0 R [0 0]"u8, "8 0 9 6 ".Length));
            return;
        }

        Assert.True(
            loops.AddFile(
                Encoding.ASCII.GetBytes(
                    $"7 0 obj\n<< /Type /ObjStm /N 2 /First 8 /Length {data.Length} >>\nstream\n{Encoding.ASCII.GetString(data)}\nendstream\nendobj\n"
                )
            )
        );
    }

    [Fact]
    public void Pages_that_name_their_parents_are_no_circle() =>
        Assert.False(
            new ReferenceLoops().AddFile(
                "1 0 obj\n<< /Kids [2 0 R] >>\nendobj\n2 0 obj\n<< /Parent 1 0 R /Annots [3 0 R] >>\nendobj\n3 0 obj\n<< /P 2 0 R /Dest [2 0 R /Fit] >>\nendobj\n4 0 obj\n[2 0 R /Fit]\nendobj\n"u8
            )
        );

    [Fact]
    public void Chain_of_references_without_end_is_refused()
    {
        string[] chain = [.. Enumerable.Range(9, 20_000).Select(i => $"{i} 0 R"), "[0 0 595 842]"];
        Assert.Equal(
            PrintedFailureKind.Damaged,
            new PdfReader().Read(With(Font, "8 0 R", "[/DeviceGray]", chain)).Failure!.Kind
        );
    }
}
