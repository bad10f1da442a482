using System.Xml.Linq;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Bench;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Hex;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Tests.Bench;

/// <summary>The card of a program as a page, as Markdown, and what it says.</summary>
public class BenchCardTests
{
    private static readonly ProgramAnalysis Demo = Assembler.Assemble(
        FixturePrograms.Read(Path.Combine(FixturePrograms.Root, "docs", "demo", "crossing.asm")),
        new FixturePrograms.Beside()
    );

    [Fact]
    public void The_same_program_gives_the_same_bytes()
    {
        BenchSubject subject = BenchSubject.Of("crossing.hex", Demo, Demo.Device!) with { Boards = 3, Labels = 3 };
        Assert.Equal(CardHtml.Of(BenchCard.Of(subject)), CardHtml.Of(BenchCard.Of(subject)));
    }

    [Fact]
    public void The_page_is_well_formed_and_needs_nothing_beside_itself()
    {
        string page = CardHtml.Of(
            BenchCard.Of(BenchSubject.Of("crossing.hex", Demo, Demo.Device!) with { Boards = 12, Labels = 12 })
        );
        var html = XDocument.Parse(page);
        Assert.DoesNotContain(
            html.Descendants(),
            e => e.Name.LocalName is "script" or "link" or "img" or "iframe" or "object"
        );
        Assert.DoesNotContain("http://", page, StringComparison.Ordinal);
        Assert.DoesNotContain("https://", page, StringComparison.Ordinal);
        Assert.Equal(12, html.Descendants("tbody").Single().Elements("tr").Count());
        Assert.Equal(12, html.Descendants("div").Count(d => (string?)d.Attribute("class") == "label"));
        Assert.Equal(18, html.Descendants("g").Count());
    }

    [Fact]
    public void Text_from_outside_never_becomes_markup()
    {
        const string hostile = "<script>alert(1)</script>&\"'><img src=x onerror=alert(2)>\u202E.hex";
        BenchSubject subject = new BenchSubject(hostile, Demo.Image.Memory, Demo.Device!) { Boards = 1, Labels = 2 };
        var card = BenchCard.Of(subject);
        var html = XDocument.Parse(CardHtml.Of(card));
        Assert.DoesNotContain(html.Descendants(), e => e.Name.LocalName is "script" or "img");
        Assert.Contains(
            "<script>alert(1)</script>",
            html.Descendants("title").Single().Value,
            StringComparison.Ordinal
        );
        string markdown = CardMarkdown.Of(card);
        Assert.DoesNotContain(
            "<script",
            markdown.Replace("\\<", "", StringComparison.Ordinal),
            StringComparison.Ordinal
        );
        Assert.DoesNotContain("\u202E", markdown, StringComparison.Ordinal);
    }

    [Fact]
    public void The_demo_says_what_to_probe()
    {
        var card = BenchCard.Of(BenchSubject.Of("crossing.hex", Demo, Demo.Device!));
        // One half second is eight slices of 60 ms and the look at the sensor, 8 samples of 10 ms (the demo's own comments).
        Probe lamp = card.After.Single(p => p.Where == "RB2 (pin 8)");
        Assert.Equal("all inputs high: low within 9 µs of the start, and stays so", lamp.Cases[0]);
        Assert.StartsWith("all inputs low: pulses every 1.12", lamp.Cases[1], StringComparison.Ordinal);
        Assert.Contains("oscillates at 4 MHz", card.After[0].Expect, StringComparison.Ordinal);
        Assert.Contains(card.Before, p => p.Expect.Contains("resistor-capacitor oscillator", StringComparison.Ordinal));
        Assert.Equal(0x4E51, card.Checksum);
    }

    [Fact]
    public void A_pin_that_the_program_names_has_that_name()
    {
        ProgramAnalysis program = Assembler.Assemble(
            new SourceFile(
                "main.asm",
                SourceText.From(
                    " list p=16f84a\n include <p16f84a.inc>\n __config _XT_OSC & _WDT_OFF\n#define LAMP PORTB,2\n bsf STATUS,RP0\n clrf TRISB\n bcf STATUS,RP0\n bsf LAMP\nloop goto loop\n end\n"
                )
            ),
            new FixturePrograms.Beside()
        );
        var card = BenchCard.Of(BenchSubject.Of("x.hex", program, program.Device!, 4e6));
        Assert.Contains(card.After, p => p.Where == "RB2 LAMP (pin 8)");
        Assert.StartsWith("LAMP: output, ", card.Pins.Single(p => p.Number == 8).Role, StringComparison.Ordinal);
    }

    [Fact]
    public void A_chip_with_factory_values_is_read_before_it_is_erased()
    {
        var card = BenchCard.Of(new BenchSubject("x.hex", Sleep, DeviceCatalog.Find("12F629")!));
        BenchStep keep = card.Steps.First(s => s.Text.Contains("before you erase", StringComparison.Ordinal));
        Assert.Contains("0x03FF", keep.Text, StringComparison.Ordinal);
        Assert.Contains("BG1:BG0", keep.Text, StringComparison.Ordinal);
        Assert.NotEmpty(keep.Cautions);
    }

    [Fact]
    public void Open_doubts_and_one_time_chips_stand_at_the_top()
    {
        var card = BenchCard.Of(
            new BenchSubject("x.hex", Sleep, DeviceCatalog.Find("16C54") ?? DeviceCatalog.Find("16C71")!) { Doubts = 2 }
        );
        Assert.Contains("2 open doubts", CardNotes.Warnings(card)[0], StringComparison.Ordinal);
        Assert.Contains("once only", CardNotes.Warnings(card)[1], StringComparison.Ordinal);
    }

    [Fact]
    public void Every_known_chip_has_a_card()
    {
        foreach (string name in DeviceCatalog.Names)
        {
            Device chip = DeviceCatalog.Find(name)!;
            var card = BenchCard.Of(new BenchSubject("x.hex", Sleep, chip));
            var html = XDocument.Parse(CardHtml.Of(card));
            Assert.Equal(chip.Pins.Length, html.Descendants("g").Count());
            Assert.Equal(chip.Pins.Length, card.Pins.Length);
            // Every port bit of the registers is a pin of the package, and every port pin of the package is a port bit.
            if (chip.Pins.Length > 0)
                Assert.All(
                    card.StartUp.Pins.Where(p => p.Pin.Pin is null),
                    p => Assert.DoesNotContain(chip.Pins, pin => pin.Functions.Contains(p.Pin.Name))
                );
        }
    }

    private static WordMemory Sleep => WordMemory.From([KeyValuePair.Create(0, (ushort)0x0063)]);
}
