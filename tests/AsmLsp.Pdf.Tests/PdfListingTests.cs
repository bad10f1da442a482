using AsmLsp.Core.Printed;
using UglyToad.PdfPig.Core;
using UglyToad.PdfPig.Fonts.Standard14Fonts;

namespace AsmLsp.Pdf.Tests;

public class PdfListingTests
{
    private static readonly string[] Listing =
    [
        "; flash a lamp",
        "        list    p=16f84a",
        "lamp    equ     0x0C            ; counter",
        "        org     0",
        "start   bsf     STATUS,RP0",
        "        movlw   b'11110000'     ; low half out",
        "        movwf   TRISB",
        "loop    decfsz  lamp,f",
        "        goto    loop",
        "        end",
    ];

    private static PrintedPage ReadOne(byte[] file)
    {
        PrintedReading reading = new PdfReader().Read(file);
        Assert.Null(reading.Failure);
        return Assert.Single(reading.Document!.Pages);
    }

    private static string[] Texts(PrintedPage page) => [.. page.Lines.Select(l => l.Text)];

    [Fact]
    public void Places_are_points_from_the_upper_left_corner()
    {
        PrintedPage page = ReadOne(Pdfs.Page((p, font) => Pdfs.Listing(p, font(Standard14Font.Courier), Listing)));

        // A4 is 595 x 842 points; the baseline was set at 780 from below. Courier is 0.6 of its height wide (ISO 32000-1 refers to the Core 14 metrics).
        Assert.Equal((595, 842), (page.Width, page.Height));
        PrintedLine second = page.Lines[1];
        Assert.Equal(842 - 780 + 11, second.Y, 1);
        Assert.Equal(60 + 8 * 9 * 0.6, second.X, 1);
        Assert.Equal(second.Text.Length, second.CharacterStarts.Length);
        Assert.Equal(60 + 16 * 9 * 0.6, second.CharacterStarts[16], 1);
    }

    [Fact]
    public void Margin_that_changes_from_page_to_page_is_no_indentation()
    {
        PrintedReading reading = new PdfReader().Read(
            Pdfs.Pages(
                (p, font) => Pdfs.Listing(p, font(Standard14Font.Courier), Listing),
                (p, font) => Pdfs.Listing(p, font(Standard14Font.Courier), Listing, x: 95)
            )
        );

        Assert.Equal(Listing, Texts(reading.Document!.Pages[0]));
        Assert.Equal(Listing, Texts(reading.Document.Pages[1]));
    }

    [Theory]
    [InlineData(2.7)] // Half a column: each character's place would be left to chance.
    [InlineData(10)]
    [InlineData(31)]
    public void Header_further_left_in_the_same_font_moves_no_column(double further)
    {
        PrintedPage page = ReadOne(
            Pdfs.Page(
                (p, font) =>
                {
                    p.AddText("Lamp flasher", 9, new PdfPoint(Pdfs.Left - further, 810), font(Standard14Font.Courier));
                    Pdfs.Listing(p, font(Standard14Font.Courier), Listing);
                }
            )
        );

        int shift = page.Lines[1].Text.Length - page.Lines[1].Text.TrimStart().Length;
        Assert.Equal("Lamp flasher", page.Lines[0].Text);
        Assert.Equal(Listing.Select(l => new string(' ', shift) + l), page.Lines.Skip(1).Select(l => l.Text));
    }

    [Fact]
    public void Extra_distance_between_characters_is_part_of_the_column()
    {
        // Tc adds 1 point after each character, Tz narrows them.
        string content =
            "BT /F1 10 Tf 1 Tc 90 Tz 60 700 Td (loop    decfsz  lamp,f) Tj 0 -12 Td (        goto    loop) Tj ET";
        Assert.Equal(["loop    decfsz  lamp,f", "        goto    loop"], Texts(ReadOne(Pdfs.WithContent(content))));
    }

    [Fact]
    public void Words_set_one_by_one_in_any_order_come_back_in_place()
    {
        string content =
            "BT /F1 10 Tf 1 0 0 1 156 700 Tm (lamp,f) Tj 1 0 0 1 60 700 Tm (loop) Tj 1 0 0 1 108 700.4 Tm (decfsz) Tj 1 0 0 1 60 712 Tm (x) Tj ET";
        Assert.Equal(["x", "loop    decfsz  lamp,f"], Texts(ReadOne(Pdfs.WithContent(content))));
    }

    [Fact]
    public void Character_printed_twice_to_look_bold_is_read_once()
    {
        string content =
            "BT /F1 10 Tf 60 700 Td (bell    bsf) Tj ET BT /F1 10 Tf 60.4 700 Td (bell    bsf) Tj ET BT /F2 10 Tf 60 650 Td (ill-lit hill) Tj ET";
        Assert.Equal(["bell    bsf", "ill-lit hill"], Texts(ReadOne(Pdfs.WithContent(content))));
    }

    [Fact]
    public void Typographic_characters_stay_as_printed()
    {
        // WinAnsi: 0x91 0x92 curled quotes, 0x96 dash, 0xA0 blank that does not break.
        string content = "BT /F1 10 Tf 60 700 Td <6D6F766C772091629230319220203B969620A061> Tj ET";
        byte[] file = Pdfs.Raw(
            "<< /Type /Catalog /Pages 2 0 R >>",
            "<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
            "<< /Type /Page /Parent 2 0 R /MediaBox [0 0 595 842] /Contents 4 0 R /Resources << /Font << /F1 5 0 R >> >> >>",
            $"<< /Length {content.Length} >>\nstream\n{content}\nendstream",
            "<< /Type /Font /Subtype /Type1 /BaseFont /Courier /Encoding /WinAnsiEncoding >>"
        );

        // The encoding gives the blank that does not break the name of the plain blank (ISO 32000-1, annex D.2, note 6).
        Assert.Equal(["movlw \u2018b\u201901\u2019  ;\u2013\u2013  a"], Texts(ReadOne(file)));
    }

    [Fact]
    public void Joined_letters_of_a_fixed_width_move_no_later_column()
    {
        // Code 1 is one shape that means 'fi' in two letters, as a map of the file says.
        string map =
            "/CIDInit /ProcSet findresource begin begincmap 1 begincodespacerange <00> <FF> endcodespacerange 1 beginbfchar <01> <00660069> endbfchar 1 beginbfrange <20> <7E> <0020> endbfrange endcmap end";
        string content = "BT /F1 10 Tf 60 700 Td <01207820202079> Tj 0 -12 Td (abcdefgijl) Tj ET";
        byte[] file = Pdfs.Raw(
            "<< /Type /Catalog /Pages 2 0 R >>",
            "<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
            "<< /Type /Page /Parent 2 0 R /MediaBox [0 0 595 842] /Contents 4 0 R /Resources << /Font << /F1 5 0 R >> >> >>",
            $"<< /Length {content.Length} >>\nstream\n{content}\nendstream",
            $"<< /Type /Font /Subtype /TrueType /BaseFont /OneWidth /FirstChar 0 /LastChar 127 /Widths [{string.Join(' ', Enumerable.Repeat("600", 128))}] /FontDescriptor 7 0 R /ToUnicode 6 0 R >>",
            $"<< /Length {map.Length} >>\nstream\n{map}\nendstream",
            "<< /Type /FontDescriptor /FontName /OneWidth /Flags 33 /FontBBox [0 -200 600 800] /ItalicAngle 0 /Ascent 800 /Descent -200 /CapHeight 700 /StemV 80 >>"
        );

        // 'fi', blank, 'x' in column 2 by the paper, pushed on by one; 'y' is back in column 6.
        Assert.Equal(["fi x  y", "abcdefgijl"], Texts(ReadOne(file)));
    }

    [Fact]
    public void Character_without_a_meaning_in_the_file_is_marked_and_not_guessed()
    {
        string content = "BT /F1 10 Tf 60 700 Td (mAvlw) Tj ET";
        byte[] file = Pdfs.Raw(
            "<< /Type /Catalog /Pages 2 0 R >>",
            "<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
            "<< /Type /Page /Parent 2 0 R /MediaBox [0 0 595 842] /Contents 4 0 R /Resources << /Font << /F1 5 0 R >> >> >>",
            $"<< /Length {content.Length} >>\nstream\n{content}\nendstream",
            "<< /Type /Font /Subtype /Type1 /BaseFont /Courier /Encoding << /Type /Encoding /Differences [65 /g77] >> >>"
        );

        PrintedLine line = Assert.Single(ReadOne(file).Lines);
        Assert.Equal("m\uFFFDvlw", line.Text);
        Assert.Equal(0.8, line.Confidence, 3);
    }

    [Fact]
    public void Blanks_that_the_file_writes_are_counted_in_text_without_a_grid()
    {
        PrintedLine line = Assert.Single(
            ReadOne(Pdfs.WithContent("BT /F2 10 Tf 60 700 Td (wait    dt   \"a  b c\") Tj ET")).Lines
        );
        Assert.Equal("wait    dt   \"a  b c\"", line.Text);
        Assert.False(line.HasUncertainBlanks);
    }

    [Theory]
    [InlineData(2.6, "\"a b\"", false)] // A quarter of the height: a blank of Helvetica (Adobe font metrics: 278/1000).
    [InlineData(5.6, "\"a b\"", true)] // Two blanks, or one that was stretched.
    public void Room_between_quotes_that_may_be_two_blanks_is_reported(double gap, string text, bool uncertain)
    {
        // The quote is 355/1000 of the height wide, 'a' 556.
        string content = string.Create(
            System.Globalization.CultureInfo.InvariantCulture,
            $"BT /F2 10 Tf 60 700 Td (\"a) Tj {3.55 + 5.56 + gap} 0 Td (b\") Tj ET"
        );
        PrintedLine line = Assert.Single(ReadOne(Pdfs.WithContent(content)).Lines);
        Assert.Equal((text, uncertain), (line.Text, line.HasUncertainBlanks));
    }

    [Fact]
    public void Invisible_layer_under_a_scan_is_read_with_less_confidence()
    {
        PrintedLine line = Assert.Single(
            ReadOne(Pdfs.WithContent("BT 3 Tr /F1 10 Tf 60 700 Td (clrf    lamp) Tj ET")).Lines
        );
        Assert.Equal("clrf    lamp", line.Text);
        Assert.Equal(0.5, line.Confidence);
    }

    [Fact]
    public void Subset_mark_is_no_part_of_the_font_name()
    {
        var face = new FontFace("ABCDEF+CourierNew-Bold");
        Assert.Equal("CourierNew-Bold", face.Name);
        Assert.Equal("Ab+Odd", new FontFace("Ab+Odd").Name);
    }
}
