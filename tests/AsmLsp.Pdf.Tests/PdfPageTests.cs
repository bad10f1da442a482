using AsmLsp.Core.Printed;
using UglyToad.PdfPig.Content;
using UglyToad.PdfPig.Core;
using UglyToad.PdfPig.Fonts.Standard14Fonts;
using UglyToad.PdfPig.Writer;

namespace AsmLsp.Pdf.Tests;

public class PdfPageTests
{
    private static PrintedPage ReadOne(byte[] file)
    {
        PrintedReading reading = new PdfReader().Read(file);
        Assert.Null(reading.Failure);
        return Assert.Single(reading.Document!.Pages);
    }

    private static string[] Texts(PrintedPage page) => [.. page.Lines.Select(l => l.Text)];

    // Prose of a column, invented: lines of nearly one length.
    private static string[] Prose(string about, int lines) =>
        [.. Enumerable.Range(1, lines).Select(i => $"Line {i:00} tells about the {about}, as ever.")];

    [Fact]
    public void Two_columns_of_prose_are_read_one_after_the_other()
    {
        string[] left = Prose("lamp", 20),
            right = Prose("bell", 18);
        PrintedPage page = ReadOne(
            Pdfs.Page(
                (p, font) =>
                {
                    p.AddText(
                        "A title across both columns of the page, longer than either of them",
                        14,
                        new PdfPoint(60, 810),
                        font(Standard14Font.Helvetica)
                    );
                    Pdfs.Listing(p, font(Standard14Font.Helvetica), left, x: 60, top: 770);
                    Pdfs.Listing(p, font(Standard14Font.Helvetica), right, x: 320, top: 770);
                    p.AddText(
                        "And a last line that goes across the whole page again, below the two columns, as a footer",
                        11,
                        new PdfPoint(60, 480),
                        font(Standard14Font.Helvetica)
                    );
                }
            )
        );

        Assert.Equal(
            [
                "A title across both columns of the page, longer than either of them",
                .. left,
                .. right,
                "And a last line that goes across the whole page again, below the two columns, as a footer",
            ],
            Texts(page)
        );
        Assert.Equal([0, .. left.Select(_ => 0), .. right.Select(_ => 1), 0], page.Lines.Select(l => l.TextColumn));
    }

    [Fact]
    public void Listing_in_two_columns_keeps_the_columns_of_both()
    {
        string[] left =
        [
            .. Enumerable
                .Range(0, 24)
                .Select(i =>
                    i % 4 == 0 ? $"left{i:00}  movlw   0x{i:X2}      ; one" : $"        addlw   0x{i:X2}      ; more"
                ),
        ];
        string[] right =
        [
            .. Enumerable
                .Range(0, 24)
                .Select(i => i % 5 == 0 ? $"right{i:00} movf    lamp,w    ; two" : "        iorwf   bell,f"),
        ];
        PrintedPage page = ReadOne(
            Pdfs.Page(
                (p, font) =>
                {
                    Pdfs.Listing(p, font(Standard14Font.Courier), left, x: 50, size: 8);
                    Pdfs.Listing(p, font(Standard14Font.Courier), right, x: 310, size: 8);
                }
            )
        );

        Assert.Equal([.. left, .. right], Texts(page));
    }

    [Fact]
    public void Operations_and_operands_are_no_text_columns()
    {
        string[] listing =
        [
            .. Enumerable
                .Range(0, 30)
                .Select(i =>
                    (i % 5 == 0 ? $"a_rather_long_label_{i:00}" : "").PadRight(24)
                    + "movlw".PadRight(16)
                    + $"d'{i}'+SOME_CONSTANT_OF_OURS"
                ),
        ];
        Assert.Equal(
            listing,
            Texts(ReadOne(Pdfs.Page((p, font) => Pdfs.Listing(p, font(Standard14Font.Courier), listing, size: 8))))
        );
    }

    [Fact]
    public void Addresses_and_words_beside_a_listing_stay_in_its_lines()
    {
        string[] listing =
        [
            .. Enumerable
                .Range(0, 30)
                .Select(i =>
                    $"{i:00000}   {i:X4}   30{i:X2}        "
                    + (i % 5 == 0 ? $"step{i:00}  movlw   0x{i:X2}" : $"        movlw   0x{i:X2}")
                ),
        ];
        Assert.Equal(
            listing,
            Texts(ReadOne(Pdfs.Page((p, font) => Pdfs.Listing(p, font(Standard14Font.Courier), listing))))
        );
    }

    [Fact]
    public void Box_at_the_side_is_read_by_itself()
    {
        string[] text =
        [
            .. Enumerable.Range(1, 30).Select(i => $"The text of the page runs here, line {i:00}, and goes on."),
        ];
        string[] box = [.. Enumerable.Range(1, 8).Select(i => $"Note {i} stands in a box.")];
        PrintedPage page = ReadOne(
            Pdfs.Page(
                (p, font) =>
                {
                    Pdfs.Listing(p, font(Standard14Font.TimesRoman), text, x: 60, size: 10, leading: 12);
                    Pdfs.Listing(p, font(Standard14Font.Helvetica), box, x: 400, top: 700, size: 8, leading: 9.5);
                }
            )
        );

        Assert.Equal([.. text, .. box], Texts(page));
    }

    [Fact]
    public void Proportional_text_has_one_blank_between_words_and_more_in_wider_gaps()
    {
        PrintedPage page = ReadOne(
            Pdfs.Page(
                (p, font) =>
                {
                    p.AddText(
                        "Solder the crystal (4 MHz) first; it's small.",
                        11,
                        new PdfPoint(60, 700),
                        font(Standard14Font.TimesRoman)
                    );
                    p.AddText("Lamp", 11, new PdfPoint(60, 680), font(Standard14Font.TimesRoman));
                    p.AddText("D1", 11, new PdfPoint(143, 680), font(Standard14Font.TimesRoman));
                    p.AddText("indented", 11, new PdfPoint(82, 660), font(Standard14Font.TimesRoman));
                }
            )
        );

        Assert.False(page.Lines[0].IsMonospaced);
        Assert.Equal("Solder the crystal (4 MHz) first; it's small.", page.Lines[0].Text);
        // Wide gaps are counted in steps of 0.45 of the height, 4.95 points: 22 points are four, 83 points are seventeen.
        Assert.Equal("    indented", page.Lines[2].Text);
        Assert.Equal("Lamp             D1", page.Lines[1].Text);
    }

    [Fact]
    public void Words_kerned_apart_without_a_blank_in_the_file_are_parted()
    {
        Assert.Equal(
            ["Bell output"],
            Texts(ReadOne(Pdfs.WithContent("BT /F2 10 Tf 60 700 Td [(Be) 20 (ll) -280 (output)] TJ ET")))
        );
    }

    [Fact]
    public void Turned_text_is_set_aside()
    {
        string content =
            "BT /F1 10 Tf 60 700 Td (clrf    lamp) Tj 0 -12 Td (goto    loop) Tj ET BT /F2 8 Tf 0 1 -1 0 30 200 Tm (Sheet 4 of 9) Tj ET BT /F2 40 Tf 0.7 0.7 -0.7 0.7 150 300 Tm (DRAFT) Tj ET";
        PrintedPage page = ReadOne(Pdfs.WithContent(content));

        Assert.Equal(["clrf    lamp", "goto    loop"], Texts(page));
        Assert.Contains(page.SetAside, l => l.Text == "Sheet 4 of 9");
        Assert.Equal(
            "DRAFT",
            string.Concat(page.SetAside.Where(l => l.Text != "Sheet 4 of 9").Select(l => l.Text).Reverse())
        );
    }

    [Fact]
    public void Faint_marks_and_pale_huge_ones_are_set_aside_and_dark_text_is_not()
    {
        string content =
            "BT 0.9 g /F2 30 Tf 60 400 Td (sample) Tj ET BT 0 g /F1 10 Tf 60 700 Td (clrf    lamp) Tj 0 -12 Td (goto    loop) Tj ET BT 0.4 g /F1 10 Tf 60 676 Td (end) Tj ET BT 0.5 g /F2 90 Tf 60 300 Td (COPY) Tj ET";
        PrintedPage page = ReadOne(Pdfs.WithContent(content));

        Assert.Equal(["clrf    lamp", "goto    loop", "end"], Texts(page));
        Assert.Equal(["COPY", "sample"], page.SetAside.Select(l => l.Text).Order());
    }

    [Fact]
    public void Light_text_on_a_dark_page_is_its_text()
    {
        PrintedPage page = ReadOne(
            Pdfs.WithContent("0 g 0 0 595 842 re f BT 1 g /F1 10 Tf 60 700 Td (clrf    lamp) Tj ET")
        );
        Assert.Equal(["clrf    lamp"], Texts(page));
    }

    [Theory]
    [InlineData("/Rotate 90", "0 1 -1 0 300 60 Tm", "0 1 -1 0 312 60 Tm")] // The page is shown turned, so its text is upright.
    [InlineData("", "0 1 -1 0 300 60 Tm", "0 1 -1 0 312 60 Tm")] // The page is shown upright, all of its text is turned.
    [InlineData("", "0 -1 1 0 312 760 Tm", "0 -1 1 0 300 760 Tm")]
    [InlineData("/Rotate 180", "-1 0 0 -1 500 300 Tm", "-1 0 0 -1 500 312 Tm")]
    public void Page_that_is_turned_as_a_whole_is_read_in_its_direction(string entries, string first, string second)
    {
        PrintedPage page = ReadOne(
            Pdfs.WithContent(
                $"BT /F1 10 Tf {first} (loop    decfsz  lamp,f) Tj {second} (        goto    loop) Tj ET",
                entries
            )
        );
        Assert.Equal(["loop    decfsz  lamp,f", "        goto    loop"], Texts(page));
        Assert.All(page.Lines, l => Assert.InRange(l.X, 0, page.Width));
        Assert.All(page.Lines, l => Assert.InRange(l.Y, 0, page.Height));
        Assert.Equal(12, page.Lines[1].Y - page.Lines[0].Y, 1);
        if (first[0] == '0')
            Assert.Equal((842, 595), (page.Width, page.Height));
    }

    [Fact]
    public void Line_that_runs_over_the_edge_of_the_paper_is_read_whole()
    {
        // A4 is 595 points wide: the line ends at 60 + 100 times 6.
        string line = "start   movlw   1 ; " + new string('x', 80);
        Assert.Equal(
            line,
            Assert
                .Single(
                    ReadOne(
                        Pdfs.WithContent(
                            $"BT /F1 10 Tf 60 700 Td ({line}) Tj 0 -20 Td (wait) Tj 640 0 Td (elsewhere) Tj ET"
                        )
                    )
                        .Lines.Take(1)
                )
                .Text
        );
        Assert.Equal(
            "elsewhere",
            Assert
                .Single(
                    ReadOne(Pdfs.WithContent("BT /F1 10 Tf 60 680 Td (wait) Tj 640 0 Td (elsewhere) Tj ET")).SetAside
                )
                .Text
        );
    }

    [Fact]
    public void Text_outside_the_visible_page_is_set_aside()
    {
        PrintedPage page = ReadOne(
            Pdfs.WithContent(
                "BT /F1 10 Tf 60 700 Td (clrf    lamp) Tj ET BT /F1 10 Tf 60 20 Td (printer's mark) Tj ET",
                "/CropBox [40 40 555 802]"
            )
        );
        Assert.Equal(["clrf    lamp"], Texts(page));
        // A font that names no encoding has the curled quote at the place of the plain one (ISO 32000-1, annex D.2, StandardEncoding).
        Assert.Equal(["printer\u2019s mark"], page.SetAside.Select(l => l.Text));
        Assert.Equal((515, 762), (page.Width, page.Height));
        Assert.Equal(20, page.Lines[0].X, 1);
        Assert.Equal(802 - 700, page.Lines[0].Y, 1);
    }

    [Fact]
    public void Text_of_a_repeated_drawing_is_read_where_it_is_used()
    {
        byte[] form = Pdfs.Stream(
            "BT /F1 10 Tf 0 0 Td (goto    loop) Tj ET"u8.ToArray(),
            "/Type /XObject /Subtype /Form /BBox [0 0 200 20] /Resources << /Font << /F1 5 0 R >> >>"
        );
        PrintedPage page = ReadOne(
            Pdfs.WithContent(
                "q 1 0 0 1 60 700 cm /X1 Do Q q 1 0 0 1 60 650 cm /X1 Do Q",
                "",
                "/XObject << /X1 7 0 R >>",
                form
            )
        );
        Assert.Equal(["goto    loop", "goto    loop"], Texts(page));
    }

    [Fact]
    public void Lines_as_one_text_know_their_pages_and_keep_wide_gaps()
    {
        PrintedReading reading = new PdfReader().Read(
            Pdfs.Pages(
                (p, font) => Pdfs.Listing(p, font(Standard14Font.Courier), ["a", "b", "", "c", "d"]),
                (p, font) => Pdfs.Listing(p, font(Standard14Font.Courier), ["e", "f"])
            )
        );

        PrintedText text = PrintedText.Of(reading.Document!);
        Assert.Equal("a\nb\n\nc\nd\ne\nf\n", text.Text);
        Assert.Equal("1 1 1 1 1 2 2", string.Join(' ', text.Pages));
    }
}
