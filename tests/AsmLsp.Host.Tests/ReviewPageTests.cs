using System.Xml.Linq;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Recovery.Listings.Rows;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Text;
using AsmLsp.Host.Pictures;
using AsmLsp.Host.Recovering;
using AsmLsp.Host.Review;
using AsmLsp.Host.Scans;

namespace AsmLsp.Host.Tests;

/// <summary>The review page, read as the well-formed XML that it is (XML 1.0).</summary>
public class ReviewPageTests
{
    private const string Program = """
                        list    p=16f84a
                        __config 0x3ff1
                        org     0
        0000 30FD start movlw   0xfd        ; only the lamp is an output
        0001 0087       movwf   6           ; and from here to the end there is
        nothing
        0002 303C       movlw   0x30        ; sixty
        0003 2800       got0    start
                        end
        """;

    [Fact]
    public void Page_holds_every_printed_line_and_every_source_line()
    {
        RecoveredDocument document = Printed(
            "|A lamp for the shed\n|It needs a fuse.",
            Program + "\n|Check the fuse first."
        );
        XDocument page = Page(document);
        Assert.Equal(
            // The page without the program comes last.
            document.Printed!.Pages.Reverse().SelectMany(p => p.Lines).Select(l => l.Text),
            Codes(page, "print").Where(t => t.Length > 0)
        );
        Assert.Equal(document.Result.Source.Lines.Select(l => l.Text).SkipLast(1), Codes(page, "source"));
    }

    [Fact]
    public void Source_line_stands_beside_the_printed_lines_that_it_came_from()
    {
        XElement row = Row(Page(Printed(Program)), "movwf");
        Assert.Equal(["5", "6"], Numbers(row, "print"));
        Assert.Equal(["5"], Numbers(row, "source"));
        Assert.Contains("The comment continued in the next printed line", row.Value, StringComparison.Ordinal);
    }

    [Fact]
    public void Each_doubt_has_an_anchor_an_explanation_and_ways_to_its_neighbours()
    {
        RecoveredDocument document = Printed(Program);
        RecoveryEntry[] doubts = [.. document.Result.Entries.Where(e => e.Severity != Severity.Information)];
        Assert.True(doubts.Length >= 2, document.Result.Source.ToString());
        XDocument page = Page(document);
        for (int i = 1; i <= doubts.Length; i++)
        {
            XElement stop = page.Descendants().Single(e => (string?)e.Attribute("id") == $"doubt-{i}");
            Assert.Contains(doubts, d => stop.Value.Contains(d.Message, StringComparison.Ordinal));
            string[] links = [.. stop.Descendants("a").Select(a => (string)a.Attribute("href")!)];
            Assert.Equal(i < doubts.Length, links.Contains($"#doubt-{i + 1}"));
            Assert.Equal(i > 1, links.Contains($"#doubt-{i - 1}"));
        }

        Assert.Contains($"{doubts.Length} to look at", page.Root!.Value, StringComparison.Ordinal);
    }

    [Fact]
    public void Changed_words_are_marked_on_both_sides_and_the_numbers_in_front_are_not()
    {
        XDocument page = Page(Printed(Program));
        XElement row = Row(page, "goto");
        Assert.Equal(
            ["got0"],
            row.Descendants("mark").Where(m => (string?)m.Attribute("class") == "was").Select(m => m.Value)
        );
        Assert.Equal(
            ["goto"],
            row.Descendants("mark").Where(m => (string?)m.Attribute("class") == "now").Select(m => m.Value)
        );
        Assert.StartsWith(
            ";? the page prints",
            Row(page, "sixty").Descendants("mark").Single(m => (string?)m.Attribute("class") == "doubt").Value,
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void Text_that_is_left_out_is_there_and_said_to_be()
    {
        XElement row = Row(Page(Printed(Program + "\n|Check the fuse first.")), "Check the fuse first.");
        Assert.Equal("out", (string?)row.Attribute("class"));
        Assert.Contains("left out", row.Value, StringComparison.Ordinal);
    }

    [Fact]
    public void Paste_is_numbered_by_its_own_lines_and_what_is_put_in_says_so()
    {
        RecoveredDocument document = Pasted("; lamp for a PIC16F84A\n bsf STATUS,RP0\n clrf TRISB\n end\n");
        XDocument page = Page(document);
        Assert.Equal(["1", "2", "3", "4"], page.Descendants("tr").SelectMany(r => Numbers(r, "print")));
        Assert.Equal(document.Result.Source.Lines.Select(l => l.Text).SkipLast(1), Codes(page, "source"));
        Assert.Equal("", Row(page, "list").Elements("td").First().Value.Trim());
        Assert.Contains("Put in:", Row(page, "list").Value, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("</code></td><script>alert(1)</script>")]
    [InlineData("<img src=x onerror='alert(1)'/> &amp; \"quoted\" ]]> <!-- ")]
    [InlineData("a \u202E turned \u0000 control \uD800 half \uFFFE none \f")]
    public void Hostile_text_stays_text(string text)
    {
        RecoveredDocument document = Pasted(
            $" list p=16f84a\n __config 0x3ff1\n movlw 1 ; {text}\n {text}\n end\n"
        ) with
        {
            Name = text,
        };
        XDocument page = Page(document);
        Assert.Equal(2, page.Descendants().Count(e => e.Name.LocalName is "script" or "style"));
        Assert.Empty(page.Descendants("img"));
        Assert.DoesNotContain('\u202E', page.Root!.Value);
        string seen = HtmlText.Escape(text);
        Assert.Contains(System.Net.WebUtility.HtmlDecode(seen), page.Root.Value, StringComparison.Ordinal);
    }

    [Fact]
    public void Page_refers_to_nothing_outside_itself_and_every_link_arrives()
    {
        XDocument page = Page(Printed(Program));
        var ids = page.Descendants().Attributes("id").Select(a => a.Value).ToList();
        Assert.Equal(ids.Count, ids.Distinct().Count());
        Assert.All(page.Descendants("a"), a => Assert.Contains(((string)a.Attribute("href")!)[1..], ids));
        Assert.Empty(page.Descendants().Attributes("src"));
        Assert.Empty(page.Descendants("link"));
        string text = page.ToString();
        Assert.DoesNotContain("http:", text, StringComparison.Ordinal);
        Assert.DoesNotContain("https:", text, StringComparison.Ordinal);
        Assert.DoesNotContain("url(", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Program_without_a_doubt_has_nothing_to_step_through()
    {
        XDocument page = Page(
            Pasted("        list    p=16f84a\n        __config 0x3ff1\nloop    goto    loop\n        end\n")
        );
        Assert.Empty(page.Descendants("nav"));
        Assert.Contains("Nothing is in doubt and nothing is wrong.", page.Root!.Value, StringComparison.Ordinal);
    }

    [Fact]
    public void Doubtful_line_has_its_picture_and_its_frame_on_the_page_leads_back_to_it()
    {
        using var folder = new TempFolder();
        RecoveredDocument document = Printed(Program) with { Bytes = "%PDF-1.4"u8.ToArray() };
        DocumentPictures pictures = Pictures(folder, document);
        Assert.NotEmpty(pictures.Lines);
        var page = XDocument.Parse(ReviewPage.Of(document, "1.2.3", null, pictures), LoadOptions.PreserveWhitespace);
        XElement row = Row(page, "sixty");
        XElement picture = Assert.Single(PictureAbove(row).Descendants("img"));
        Assert.Equal("Picture of page 1, line 7", (string?)picture.Attribute("alt"));
        Assert.StartsWith("data:image/png;base64,iVBOR", (string?)picture.Attribute("src"), StringComparison.Ordinal);
        string frame = ((string)picture.Parent!.Attribute("href")!)[1..];
        XElement framed = page.Descendants("a").Single(a => (string?)a.Attribute("id") == frame);
        string doubt = ((string)framed.Attribute("href")!)[1..];
        Assert.Contains(row.Descendants("div"), d => (string?)d.Attribute("id") == doubt);
        Assert.Contains(
            row.Descendants("a"),
            a => a.Value == "on its page" && (string?)a.Attribute("href") == "#" + frame
        );
        // Lines in no doubt need none.
        Assert.Empty(PictureAbove(Row(page, "org")).Descendants("img"));
        Assert.All(
            page.Descendants().Attributes("src"),
            s => Assert.StartsWith("data:", s.Value, StringComparison.Ordinal)
        );
        var ids = page.Descendants().Attributes("id").Select(a => a.Value).ToList();
        Assert.Equal(ids.Count, ids.Distinct().Count());
        Assert.All(page.Descendants("a"), a => Assert.Contains(((string)a.Attribute("href")!)[1..], ids));
    }

    [Fact]
    public void Without_pictures_the_page_says_why()
    {
        RecoveredDocument document = Printed(Program) with { Bytes = "%PDF-1.4"u8.ToArray() };
        var pictures = DocumentPictures.Draw(document, tools: new ScanTools(null, null, null));
        var page = XDocument.Parse(ReviewPage.Of(document, "1.2.3", null, pictures));
        Assert.Empty(page.Descendants("img"));
        Assert.Contains("pdftoppm is not installed", page.Root!.Value, StringComparison.Ordinal);
    }

    [Fact]
    public void Pages_without_the_program_follow_it_together()
    {
        XDocument page = Page(Printed("|A lamp", "|Parts", "|Tools", Program, "|Drawing"));
        XElement[] sheets = [.. page.Descendants().Where(e => (string?)e.Attribute("class") == "sheet")];
        Assert.Equal("Page 4", sheets[0].Descendants("h3").First().Value);
        XElement quiet = sheets[^1];
        Assert.Equal("details", quiet.Name.LocalName);
        Assert.Equal(
            "Pages 1-3, 5 4 lines, none of the program",
            string.Join(
                ' ',
                quiet.Element("summary")!.Value.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)
            )
        );
        Assert.Equal(
            ["page-1", "page-2", "page-3", "page-5"],
            quiet.Elements("h4").Select(h => (string?)h.Attribute("id"))
        );
    }

    [Fact]
    public void Ticks_are_known_by_the_document_and_by_the_doubt()
    {
        XDocument first = Page(Printed(Program)),
            again = Page(Printed(Program)),
            other = Page(Printed(Program.Replace("303C", "303D", StringComparison.Ordinal)));
        Assert.Equal(Keys(first), Keys(again));
        Assert.Equal(Keys(first).Count, Keys(first).Distinct().Count());
        Assert.NotEqual(Keys(first), Keys(other));
        Assert.Equal(64, ((string)first.Descendants("body").Single().Attribute("data-document")!).Length);

        static List<string> Keys(XDocument page) => [.. page.Descendants().Attributes("data-key").Select(a => a.Value)];
    }

    private static XElement PictureAbove(XElement row) => row.ElementsBeforeSelf().Last();

    // A white page, drawn by a are-in.
    private static DocumentPictures Pictures(TempFolder folder, RecoveredDocument document) =>
        DocumentPictures.Draw(
            document,
            tools: new ScanTools(
                null,
                folder.Script(
                    "renderer",
                    "{ printf 'P5\\n1653 2339\\n255\\n'; head -c 3866367 /dev/zero | tr '\\0' '\\377'; } > drawn.pgm"
                ),
                null
            )
        );

    private static RecoveredDocument Pasted(string text)
    {
        SourceText source = SourceText.From(text);
        return new RecoveredDocument("paste.txt", Array.Empty<byte>(), null, source, TextRecovery.Run(source));
    }

    // Monospaced lines as they are, prose after a '|'.
    private static RecoveredDocument Printed(params string[] pages)
    {
        var printed = new List<PrintedPage>();
        foreach (string page in pages)
        {
            var lines = new List<PrintedLine>();
            foreach (string line in page.Split('\n'))
            {
                bool prose = line[0] == '|';
                string text = prose ? line[1..] : line;
                lines.Add(
                    new PrintedLine(
                        text,
                        printed.Count + 1,
                        lines.Count + 1,
                        60 + 6 * (text.Length - text.TrimStart().Length),
                        60 + 12 * lines.Count,
                        prose ? "Times-Roman" : "Courier",
                        prose ? 11 : 10,
                        !prose
                    )
                );
            }

            printed.Add(new PrintedPage(printed.Count + 1, 595, 842, [.. lines], []));
        }

        var document = new PrintedDocument([.. printed]);
        return new RecoveredDocument("lamp.pdf", Array.Empty<byte>(), document, null, DocumentRecovery.Run(document));
    }

    private static XDocument Page(RecoveredDocument document) =>
        XDocument.Parse(ReviewPage.Of(document, "1.2.3"), LoadOptions.PreserveWhitespace);

    private static IEnumerable<string> Codes(XDocument page, string side) =>
        page.Descendants("td")
            .Where(d => (string?)d.Attribute("class") == side)
            .SelectMany(d => d.Descendants("code"))
            .Select(c => c.Value);

    private static XElement Row(XDocument page, string word) =>
        page.Descendants("tr")
            .Single(r =>
                r.Descendants("code").LastOrDefault()?.Value.Split(' ', StringSplitOptions.RemoveEmptyEntries)
                    is { } words
                && (words.Contains(word) || string.Join(' ', words) == word)
            );

    private static IEnumerable<string> Numbers(XElement row, string side) =>
        row.Elements("td")
            .Where(d => (string?)d.Attribute("class") == side)
            .Descendants("span")
            .Where(s => (string?)s.Attribute("class") == "number")
            .Select(s => string.Concat(s.Nodes().OfType<XText>().Select(t => t.Value)));
}
