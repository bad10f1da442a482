using System.Collections.Immutable;
using AsmLsp.Core.Printed;
using AsmLsp.Host.Scans;

namespace AsmLsp.Host.Tests.Scans;

public class HocrReaderTests
{
    // As hOCR 1.2 has it: boxes from the upper left corner in dots, the base line from the lower left corner of the line's box.
    private const string Line = """
        <span class='ocr_line' id='line_1_1' title="bbox 100 200 400 230; baseline 0.01 -6; x_size 29">
         <span class='ocrx_word' id='word_1_1' title='bbox 100 205 140 230; x_wconf 90'>
          <span class='ocrx_cinfo' title='x_bboxes 100 205 118 224; x_conf 99.5'>n</span>
          <span class='ocrx_cinfo' title='x_bboxes 122 205 140 224; x_conf 45'>&amp;</span>
         </span>
         <span class='ocrx_word' id='word_1_2' title='bbox 300 205 318 224; x_wconf 90'>
          <span class='ocrx_cinfo' title='x_bboxes 300 205 318 224; x_conf 97'>5</span>
         </span>
        </span>
        """;

    [Fact]
    public void Characters_have_their_places_in_points()
    {
        OcrRow row = Assert.Single(HocrReader.Read(Line, 0.24));
        Assert.Equal(["n", "&", "5"], row.Characters.Select(static c => c.Text));
        Assert.Equal([true, false, true], row.Characters.Select(static c => c.StartsWord));
        Assert.Equal(24, row.Characters[0].Left, 6);
        Assert.Equal(0.45, row.Characters[1].Confidence, 6);
        // 230 - 6 - 0.01 * 100 dots at the left edge of the page.
        Assert.Equal(223 * 0.24, row.BaseLine, 6);
        Assert.Equal(0.01, row.Slope, 6);
    }

    [Theory]
    [InlineData("")]
    [InlineData("<span")]
    [InlineData("<span class='ocrx_cinfo' title='x_bboxes 1 2 3; x_conf 9'>a</span>")]
    [InlineData("<span class='ocrx_cinfo' title='x_bboxes 1 2 3 NaN; x_conf 9'>a</span>")]
    [InlineData(
        "<span class='ocr_line' title='bbox 1 2 3 4'><span class='ocrx_cinfo' title='x_bboxes 1 2 3 4; x_conf 9'>"
    )]
    public void What_is_broken_gives_no_characters(string text) => Assert.Empty(HocrReader.Read(text, 1));

    [Fact]
    public void Every_beginning_of_a_file_is_read_without_a_fault()
    {
        for (int length = 0; length <= Line.Length; length++)
        {
            ImmutableArray<OcrRow> rows = HocrReader.Read(Line[..length], 0.24);
            Assert.True(rows.Length <= 1);
        }
    }
}
