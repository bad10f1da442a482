using AsmLsp.Core.Recovery.Printed;

namespace AsmLsp.Pdf.Tests;

/// <summary>The leaflet of docs/demo, a document that no test made.</summary>
public class DemoLeafletTests
{
    private static byte[] Leaflet => File.ReadAllBytes(Path.Combine(AppContext.BaseDirectory, "demo", "crossing-kit.pdf"));

    private static string[] Words(string text) => text.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries);

    [Fact]
    public void Every_word_of_every_page_is_read_as_another_reader_does()
    {
        // Compared without the ligatures, which pdftotext takes apart.
        string outside = Paper.Outside(Leaflet);
        PrintedDocument document = new PdfReader().Read(Leaflet).Document!;
        string[] pages = outside.Split('\f');
        Assert.Equal(6, document.Pages.Length);
        for (int i = 0; i < 6; i++)
        {
            string ours = Paper.Text(document.Pages[i]).Replace("\uFB01", "fi", StringComparison.Ordinal).Replace("\uFB02", "fl", StringComparison.Ordinal);
            Assert.Equal(Words(pages[i]).Order(StringComparer.Ordinal), Words(ours).Order(StringComparer.Ordinal));
        }
    }

    [Fact]
    public void Listing_keeps_its_columns_over_the_pages()
    {
        PrintedDocument document = new PdfReader().Read(Leaflet).Document!;
        string[] listing = document.Pages.Skip(3).SelectMany(p => p.Lines).Where(l => l.IsMonospaced).Select(l => l.Text).ToArray();
        Assert.Contains("LAMPA   equ     1               ; port B, out", listing);
        Assert.Contains("        movlw   8", listing);
        Assert.Contains("retfie                  ; no interrupt is switched on", listing);
        Assert.Contains("    idle1   call    look", listing);
        Assert.Contains("        de      \u201CHALT LANE\u201D, d\u20191\u2019, d\u20192\u2019", listing);
    }
}
