using System.Xml.Linq;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Recovery.Listings.Rows;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Text;
using AsmLsp.Host.Recovering;
using AsmLsp.Host.Review;

namespace AsmLsp.Host.Tests;

/// <summary>The page of review, read as the well-formed XML that it is (XML 1.0).</summary>
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
            document.Printed!.Pages.SelectMany(p => p.Lines).Select(l => l.Text),
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
        Assert.Contains("The comment went on in the next printed line", row.Value, StringComparison.Ordinal);
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

    private static RecoveredDocument Pasted(string text)
    {
        SourceText source = SourceText.From(text);
        return new RecoveredDocument("paste.txt", Array.Empty<byte>(), null, source, TextRecovery.Run(source));
    }

    // Monospaced lines as they stand, prose behind a '|'.
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
