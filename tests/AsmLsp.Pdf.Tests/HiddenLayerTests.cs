using System.Globalization;
using System.Text;
using AsmLsp.Core.Printed;

namespace AsmLsp.Pdf.Tests;

/// <summary>Text that somebody's text recognition has put with the picture of a page: it is a guess, wherever it hides.</summary>
public class HiddenLayerTests
{
    private const string Text = "BT /F1 10 Tf 60 700 Td (clrf    lamp) Tj ET ";
    private const string Unseen = "BT 3 Tr /F1 10 Tf 60 700 Td (clrf    lamp) Tj ET ";
    private const string OverPage = "q 595 0 0 842 0 0 cm /Scan Do Q ";
    private const string OverText = "q 300 0 0 100 40 650 cm /Scan Do Q ";
    private const string Beside = "q 200 0 0 200 300 100 cm /Scan Do Q ";

    private static PrintedPage Read(string content, string entries = "")
    {
        byte[] picture = Pdfs.Stream(
            [255, 255, 255, 255],
            $"/Type /XObject /Subtype /Image /Width 2 /Height 2 /ColorSpace /DeviceGray /BitsPerComponent 8 {entries}"
        );
        byte[] mask = Pdfs.Stream(
            [0, 0, 0, 0],
            "/Type /XObject /Subtype /Image /Width 2 /Height 2 /ColorSpace /DeviceGray /BitsPerComponent 8"
        );
        PrintedReading reading = new PdfReader().Read(
            Pdfs.WithContent(
                content,
                "",
                "/XObject << /Scan 7 0 R >> /ExtGState << /Half << /ca 0.5 >> >>",
                picture,
                mask
            )
        );
        Assert.Null(reading.Failure);
        return Assert.Single(reading.Document!.Pages);
    }

    [Theory]
    [InlineData(Unseen + OverPage)]
    [InlineData(OverPage + Unseen)]
    [InlineData(Text + OverPage)] // Drawn, and hidden by the picture that is drawn after it.
    [InlineData(Text + OverText)]
    public void What_nobody_can_see_is_a_guess_and_the_picture_can_be_read_instead(string content)
    {
        PrintedPage page = Read(content);
        PrintedLine line = Assert.Single(page.Lines);
        Assert.Equal("clrf    lamp", line.Text);
        Assert.True(line.IsOcr && line.IsInkUnknown);
        Assert.True(page.HasHiddenText);
    }

    [Fact]
    public void What_can_be_seen_on_a_page_that_is_a_picture_all_over_is_a_guess_too()
    {
        PrintedPage page = Read(OverPage + Text);
        Assert.True(Assert.Single(page.Lines).IsOcr);
        Assert.False(page.HasHiddenText);
    }

    [Fact]
    public void A_scan_in_strips_is_a_picture_all_over()
    {
        var strips = new StringBuilder();
        for (int i = 0; i < 10; i++)
            strips.Append(CultureInfo.InvariantCulture, $"q 595 0 0 85 0 {i * 84} cm /Scan Do Q ");
        Assert.True(Assert.Single(Read(strips + Text).Lines).IsOcr);
    }

    [Theory]
    [InlineData(Text + Beside, "")]
    [InlineData(Beside + Text, "")]
    [InlineData(Text + OverText, "/SMask 8 0 R")] // A mark that shines through.
    [InlineData(Text + "/Half gs " + OverText, "")]
    [InlineData(OverText + Text, "")] // A colored ground of the listing alone.
    public void Text_that_can_be_read_by_anybody_is_what_was_printed(string content, string entries)
    {
        PrintedPage page = Read(content, entries);
        Assert.False(Assert.Single(page.Lines).IsOcr);
        Assert.False(page.HasHiddenText);
    }

    [Fact]
    public void A_line_that_somebody_stamped_on_the_scan_changes_nothing()
    {
        PrintedPage page = Read(
            OverPage
                + "BT 3 Tr /F1 10 Tf 60 700 Td (clrf    lamp) Tj 0 -12 Td (movlw   0x30) Tj ET BT 0 Tr /F1 6 Tf 60 20 Td (my) Tj ET"
        );
        Assert.True(page.HasHiddenText);
        Assert.Equal(3, page.Lines.Length);
    }
}
