using AsmLsp.Core.Hex;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Recovery.Results;

namespace AsmLsp.Pdf.Tests;

/// <summary>The leaflet of docs/demo, a document that no test made.</summary>
public class DemoLeafletTests
{
    private static byte[] Leaflet =>
        File.ReadAllBytes(Path.Combine(AppContext.BaseDirectory, "demo", "crossing-kit.pdf"));

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
            string ours = Paper
                .Text(document.Pages[i])
                .Replace("\uFB01", "fi", StringComparison.Ordinal)
                .Replace("\uFB02", "fl", StringComparison.Ordinal);
            Assert.Equal(Words(pages[i]).Order(StringComparer.Ordinal), Words(ours).Order(StringComparer.Ordinal));
        }
    }

    [Fact]
    public void Listing_keeps_its_columns_over_the_pages()
    {
        PrintedDocument document = new PdfReader().Read(Leaflet).Document!;
        string[] listing = document
            .Pages.Skip(3)
            .SelectMany(p => p.Lines)
            .Where(l => l.IsMonospaced)
            .Select(l => l.Text)
            .ToArray();
        Assert.Contains("LAMPA   equ     1               ; port B, out", listing);
        Assert.Contains("        movlw   8", listing);
        Assert.Contains("retfie                  ; no interrupt is switched on", listing);
        Assert.Contains("    idle1   call    look", listing);
        Assert.Contains("        de      \u201CHALT LANE\u201D, d\u20191\u2019, d\u20192\u2019", listing);
    }

    [Fact]
    public void Program_of_the_leaflet_comes_back_without_a_doubt_and_builds_to_the_words_worked_out_by_hand()
    {
        RecoveryResult result = DocumentRecovery.Run(new PdfReader().Read(Leaflet).Document!);
        Assert.True(result.IsClean, string.Join('\n', result.Entries.Where(e => e.Severity != Severity.Information)));
        // crossing.hex follows from the fields in crossing-words.md (check_words.py), not from what is tested here.
        string expected = File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "demo", "crossing.hex"));
        Assert.Equal(expected, IntelHexWriter.Write(result.Program.Image.Memory));
        Assert.Equal([4, 5, 6], result.Origins.Select(o => o.Page).Where(p => p > 0).Distinct());
    }

    [Fact]
    public void Program_comes_back_as_it_was_before_it_was_printed()
    {
        string[] clean = File.ReadAllLines(Path.Combine(AppContext.BaseDirectory, "demo", "crossing.asm"))
            .Where(l => l.Length > 0)
            .ToArray();
        string[] recovered = DocumentRecovery
            .Run(new PdfReader().Read(Leaflet).Document!)
            .Source.Lines.Select(l => l.Text)
            .Where(l => l.Length > 0)
            .ToArray();
        // Dashes and quotes in comments stay as they are printed, and so does the blank that typesetting put after a comma.
        static string Plain(string line) =>
            line.Replace('\u2019', '\'')
                .Replace(" \u2013 the", ", the")
                .Replace(" \u2014 no", ": no")
                .Replace("STATUS, RP0", "STATUS,RP0");
        Assert.Equal(clean, recovered.Select(Plain));
    }
}
