using AsmLsp.Core.Doubts;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Tests.Recovery.Document;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Tests.Recovery;

/// <summary>Each line of a recovered source knows the lines that it was printed or pasted on.</summary>
public class LineOriginTests
{
    [Fact]
    public void Lines_of_a_paste_keep_their_numbers_through_joining_and_layout()
    {
        RecoveryResult result = TextRecovery.Run(
            SourceText.From("list p=16f84a\n__config 0x3ff1\nstart dt 1,\n2,\n3\nPage 4\nmovlw 5\nend\n")
        );
        Assert.Equal(
            ["1 list p=16f84a", "2 __config 0x3ff1", "3-5 start dt 1,2,3", "6 ; Page 4", "7 movlw 5", "8 end", "9 "],
            Shown(result)
        );
    }

    [Fact]
    public void Line_that_continues_after_a_page_break_belongs_to_both_its_lines_and_not_to_the_break()
    {
        RecoveryResult result = TextRecovery.Run(
            SourceText.From(" list p=16f84a\n __config 0x3ff1\nstart dt 1,\nPage 4\n2,3\n movlw 5\n end\n")
        );
        Assert.Contains("3+5 start dt 1,2,3", Shown(result));
        Assert.Contains("4 ; Page 4", Shown(result));
    }

    [Fact]
    public void Line_that_was_put_in_has_no_origin()
    {
        RecoveryResult result = TextRecovery.Run(
            SourceText.From("; lamp for a PIC16F84A\n bsf STATUS,RP0\n clrf TRISB\n end\n")
        );
        Assert.Equal(
            [
                "1 ; lamp for a PIC16F84A",
                "- list p=16f84a",
                "- include <p16f84a.inc>",
                "2 bsf STATUS,RP0",
                "3 clrf TRISB",
                "4 end",
                "5 ",
            ],
            Shown(result)
        );
    }

    [Fact]
    public void Every_line_of_a_paste_is_the_origin_of_some_line()
    {
        foreach (string program in Directory.GetFiles(FixturePrograms.Folder, "*.asm"))
        {
            SourceText text = SourceText.From(File.ReadAllText(program).Replace("    ", "", StringComparison.Ordinal));
            RecoveryResult result = TextRecovery.Run(text);
            Assert.Equal(result.Source.LineCount, result.Origins.Length);
            int[] known = [.. result.Origins.SelectMany(o => o.Places).Select(p => p.Line).Distinct().Order()];
            Assert.Equal(Enumerable.Range(1, text.LineCount), known);
        }
    }

    [Fact]
    public void Comment_joined_on_paper_has_two_printed_lines()
    {
        RecoveryResult result = PrintedPages.Recover(
            "|Leaflet\n        list    p=16f84a        ; as long as the page is wide\n        __config 0x3ff1\n        org     0\n        clrw                    ; the time until the lamps will go\nout\n        goto    0\n        end"
        );
        int line = Enumerable
            .Range(0, result.Source.LineCount)
            .Single(i => result.Source[i].Text.Contains("clrw", StringComparison.Ordinal));
        Assert.Equal("page 1, lines 5 and 6", result.Origins[line].ToString());
    }

    [Theory]
    [InlineData("0:4", "line 4")]
    [InlineData("0:4 0:5", "lines 4 and 5")]
    [InlineData("0:4 0:5 0:6", "lines 4 to 6")]
    [InlineData("3:12", "page 3, line 12")]
    [InlineData("3:12 3:13 4:2", "page 3, lines 12 and 13 and page 4, line 2")]
    [InlineData("", "")]
    public void Origin_is_reported_in_words(string places, string words)
    {
        LineOrigin origin = LineOrigin.None;
        foreach (string place in places.Split(' ', StringSplitOptions.RemoveEmptyEntries))
            origin = origin.With(
                LineOrigin.At(place[0] - '0', int.Parse(place[2..], System.Globalization.CultureInfo.InvariantCulture))
            );
        Assert.Equal(words, origin.ToString());
    }

    private static IEnumerable<string> Shown(RecoveryResult result) =>
        result.Origins.Select(
            (origin, line) =>
                $"{Numbers(origin)} {string.Join(' ', DoubtMark.Remove(result.Source[line].Text).Split(' ', StringSplitOptions.RemoveEmptyEntries))}"
        );

    private static string Numbers(LineOrigin origin)
    {
        int[] lines = [.. origin.Places.Select(p => p.Line)];
        return lines.Length switch
        {
            0 => "-",
            1 => $"{lines[0]}",
            _ => lines[^1] - lines[0] == lines.Length - 1 ? $"{lines[0]}-{lines[^1]}" : string.Join('+', lines),
        };
    }
}
