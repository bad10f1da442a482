using AsmLsp.Core.Printed;
using AsmLsp.Core.Recovery.Listings;
using AsmLsp.Core.Recovery.Results;
using static AsmLsp.Core.Tests.Recovery.Document.PrintedPages;

namespace AsmLsp.Core.Tests.Recovery.Document;

public class GluedNumbersTests
{
    // A word processor numbers the lines: from 10 on, the number fills its room.
    private const string Listed = """
        8.         list    p=16f84a
        9.         __config 0x3ff1
        10.lamp    equ     6
        11.
        12.        org     0
        13.start   movlw   1
        14.        movwf   lamp
        15.        goto    start
        16.        end
        """;

    [Fact]
    public void Numbers_without_a_gap_after_them_are_parted_from_their_lines()
    {
        RecoveryResult result = Recover(Listed);
        // By hand (DS35007B, table 7-2): MOVLW 11 00xx k, MOVWF 00 0000 1f, GOTO 10 1k.
        Assert.Equal("0:3001 1:0086 2:2800", Words(result));
        Assert.True(result.IsClean, string.Join('\n', DoubtsOf(result)));
        Assert.Contains("\nstart ", Source(result), StringComparison.Ordinal);
    }

    [Fact]
    public void Starts_of_the_characters_stay_with_the_characters()
    {
        PrintedDocument document = Of(Listed);
        PrintedPage page = document.Pages[0];
        page = page with
        {
            Lines =
            [
                .. page.Lines.Select(l =>
                    l with
                    {
                        CharacterStarts = [.. Enumerable.Range(0, l.Text.Length).Select(i => 60f + 6 * i)],
                    }
                ),
            ],
        };
        PrintedLine line = GluedNumbers.Part([page])[0].Lines[2];
        Assert.Equal("10. lamp    equ     6", line.Text);
        Assert.Equal(line.Text.Length, line.CharacterStarts.Length);
        Assert.Equal([72f, 78f, 78f, 84f], line.CharacterStarts.Skip(2).Take(4));
    }

    [Theory]
    [InlineData("1.5V|2.2k|1.5V|4.7k|9.1k|1.0M|2.2k|3.3k|3.9k")] // Values of parts.
    [InlineData("1.lamp|2.lamp|3.lamp")] // Too few to be sure.
    [InlineData("1. a|2. b|3. c|4. d|5. e|6. f|7. g|8. h|9. i")] // Parted already.
    public void Other_numbers_stay_as_they_are(string lines)
    {
        PrintedPage[] pages = [Of(lines.Replace('|', '\n')).Pages[0]];
        Assert.Same(pages, GluedNumbers.Part(pages));
    }
}
